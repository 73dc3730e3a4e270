/**
 * Records streams of this folder anew: `node test/core/capture/recorded/recordStreams.ts [name…]`. A real meter was not at hand. It
 * is the simulated bench at a meter's pace, in a process of its own, with its hands at the probes; and everything of ours between
 * it and the reading: pseudo-terminal, serial package, session, meter. So time and value of each reading are what they are on a
 * machine that is busy with other things, and not what a generator for this test would make of them.
 */
import { writeFileSync } from 'node:fs';
import { trueOhms } from '../../../../instruments/bench/lot.ts';
import type { BenchScenarioInput } from '../../../../instruments/bench/scenario.ts';
import { readScenario } from '../../../../instruments/bench/scenario.ts';
import { ohmsWhileRead } from '../../../../instruments/bench/temperature.ts';
import { connectMeter } from '../../../../instruments/meter/connect.ts';
import { openPtyPair, startPtyBench } from '../../../instruments/ptyPair.ts';
import type { RecordedHead } from '../recordedStream.ts';

/** A stream to record: whole percents of tolerance, and for how long the hands go on. */
interface Recording {
  name: string;
  percent: number;
  seconds: number;
  scenario: BenchScenarioInput & { lot: { nominalOhms: number } };
}

const READINGS_OF_REFERENCE = 5;
const NO_ODD_PIECES = { shareOpen: 0, shareWrong: 0 };

/**
 * `busyMachine` was recorded as `twoASecondSlipping` while other programs had the processors: readings came up to 0.2 s late. The
 * file `twoASecondSlipping` was recorded by programs that the system put before all others.
 */
const RECORDINGS: readonly Recording[] = [
  {
    name: 'twoASecondSlipping',
    percent: 1,
    seconds: 32,
    scenario: {
      seed: 41,
      lot: { nominalOhms: 4700, ...NO_ODD_PIECES },
      hands: { piecesPerSecond: 2, shareSlips: 0.2 },
    },
  },
  {
    name: 'openPieces',
    percent: 1,
    seconds: 45,
    scenario: { seed: 43, lot: { nominalOhms: 4700, shareOpen: 0.25, shareWrong: 0 }, hands: { piecesPerSecond: 2 } },
  },
  {
    name: 'fewOhms',
    percent: 5,
    seconds: 20,
    scenario: {
      seed: 45,
      lot: { nominalOhms: 10, ...NO_ODD_PIECES },
      hands: { piecesPerSecond: 1.5, shareSlips: 0.2 },
    },
  },
  {
    name: 'megohms',
    percent: 1,
    seconds: 25,
    scenario: {
      seed: 47,
      lot: { nominalOhms: 1e6, ...NO_ODD_PIECES },
      hands: { piecesPerSecond: 1, shareSlips: 0.2 },
    },
  },
  {
    name: 'highMegohms',
    percent: 10,
    seconds: 50,
    scenario: { seed: 49, lot: { nominalOhms: 82e6, ...NO_ODD_PIECES }, hands: { piecesPerSecond: 0.2 } },
  },
];

const wanted = process.argv.slice(2);
for (const recording of RECORDINGS.filter(({ name }) => wanted.length === 0 || wanted.includes(name)))
  await record(recording);

async function record({ name, percent, seconds, scenario }: Recording): Promise<void> {
  const pair = await openPtyPair();
  const bench = await startPtyBench(pair, { ...scenario, meter: { pace: 'real' } });
  const options = {
    random: Math.random,
    bench: {},
    onLost: (why: Error) => {
      throw why;
    },
  };
  const meter = await connectMeter(pair.near, options);
  try {
    const { nominalOhms } = scenario.lot;
    const upper = nominalOhms * (1 + percent / 100);
    const found = await meter.configure({
      function: '2-wire',
      range: { coversOhms: String(upper) },
      integrationCycles: 1,
    });
    const { hands } = meter;
    if (!hands) throw new Error('this bench has no hands');
    const { ohms: reference } = await hands.reference();
    const measured: string[] = [];
    while (measured.length < READINGS_OF_REFERENCE) measured.push((await meter.read()).raw);
    await hands.short();
    const shorted = (await meter.read()).raw;
    await hands.lift();

    const lines: string[] = [];
    const began = performance.now();
    await hands.takePieces(1);
    while (performance.now() - began < seconds * 1000) {
      const reading = await meter.glance();
      const at = ((performance.now() - began) / 1000).toFixed(4);
      lines.push(`${at},${reading.kind === 'value' ? reading.ohms : 'overload'}`);
    }
    const lying = readScenario(scenario);
    const pieces = Array.from({ length: Math.ceil(seconds * 3) }, (_, index) => {
      const ohms = trueOhms(lying, index + 1);
      return ohms === null
        ? null
        : ohmsWhileRead(lying, index + 1, ohms, lying.ambientCelsius, Number(found.rangeOhms));
    });
    const head: RecordedHead = {
      nominal: String(nominalOhms),
      lower: String(nominalOhms * (1 - percent / 100)),
      upper: String(upper),
      setting: found,
      reference: { ohms: reference, measured },
      shorted,
      pieces,
    };
    const words = `# Recorded from the simulated bench (seed ${scenario.seed}) over a pseudo-terminal, by recordStreams.ts; of no real meter.`;
    writeFileSync(
      new URL(`${name}.txt`, import.meta.url),
      `${words}\n# ${JSON.stringify(head)}\n# seconds,ohms\n${lines.join('\n')}\n`,
    );
    console.log(`${name}: ${lines.length} readings`);
  } finally {
    await meter.close();
    await bench.stop();
    await pair.stop();
  }
}
