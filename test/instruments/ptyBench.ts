import { SerialPort } from 'serialport';
import { Bench } from '../../instruments/bench/bench.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';
import { serveBench } from '../../instruments/bench/serve.ts';

// Run as a process of its own: serves a bench on one end of a pseudo-terminal pair until that end goes away.
// Arguments: path of the end, scenario as JSON. Says "ready" on its standard output when it listens.
const [path = '', scenario = '{}'] = process.argv.slice(2);
const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
port.open((failure) => {
  if (failure) throw failure;
  serveBench(port, new Bench(readScenario(JSON.parse(scenario)))).finally(() => process.exit());
  console.log('ready');
});
