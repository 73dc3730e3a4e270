import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { openRun } from '../../../core/contract/openRun.ts';
import { CAUTIONS } from '../../../core/inspection/cautions.ts';
import { checkDue } from '../../../core/inspection/run.ts';
import { serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import { benchFor } from '../../../main/station/benchFor.ts';
import { openStation } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';

// A station that measures one run on the simulated bench until it is killed, and writes down each reading once it was told of it: a line
// `reading number raw`. Started again on the same folder it goes on with the run.

const BY = 'killed';
const RUN = 1;
const data = process.argv[2] as string;

const station = openStation({ folders: { data, certificates: join(data, 'certificates') }, version: 'test' });
const say = (line: string) => writeSync(1, `${line}\n`);
station.listen((news) => {
  if (news.kind !== 'entry') return;
  const { event } = news.entry;
  if (event.type === 'reading-taken') say(`reading ${event.reading} ${event.raw}`);
});
if ((await station.ask('overview', {})).runCount === 0) {
  const claim = exampleLot({ sampleSize: 5000, accept: 4999 });
  await station.ask('receive-lot', { claim: { ...claim, positions: { kind: 'as-taken' } } });
}
say('open');

const { run } = await openRun(station, RUN);
const { meter, ...scenario } = benchFor(0, run, 'sim:7');
const bench = await serveBenchOnTcp({
  host: '127.0.0.1',
  port: 0,
  scenario: { ...scenario, meter: { ...meter, pace: 'none' } },
});
await station.ask('connect-meter', { run: RUN, address: bench.address });
await station.ask('confirm-bench', { run: RUN, by: BY, cautions: [...CAUTIONS] });
for (;;) {
  const check = checkDue((await openRun(station, RUN)).run);
  if (check === null) await station.ask('take-reading', { run: RUN }).catch(checksAreDue);
  else await station.ask('check-bench', { run: RUN, by: BY, check });
}

function checksAreDue(thrown: { code?: string }): void {
  if (thrown.code !== 'run-not-ready') throw thrown;
}
