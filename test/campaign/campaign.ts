import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { socatIsHere } from '../instruments/ptyPair.ts';
import { killAgainAndAgain } from '../main/record/kills.ts';
import { fuzzAll } from './fuzz.ts';
import { runCampaign } from './runCampaign.ts';
import { seededRandom } from './seededRandom.ts';
import { Tally } from './tally.ts';

// `npm run campaign`: faults of a misbehaving meter in processes of its own, over pseudo-terminals and TCP, and made-up
// inputs for what reads its bytes; then kills (SIGKILL) of a station that measures. Ends with 1 if one reading was paired wrongly, one
// operation hung, one input was read as a number and is none, or one reading that was told is not in the record.
// `npm run campaign -- --faults 1000 --seed 7 --fuzz 0 --kills 20`
const { values } = parseArgs({
  options: {
    faults: { type: 'string', default: '10000' },
    seed: { type: 'string', default: String(Math.floor(Math.random() * 2 ** 31)) },
    lanes: { type: 'string', default: '48' },
    fuzz: { type: 'string', default: '1000000' },
    kills: { type: 'string', default: '200' },
  },
});
const [faults, seed, lanes, inputs, kills] = [values.faults, values.seed, values.lanes, values.fuzz, values.kills].map(
  Number,
) as [number, number, number, number, number];
const PROGRESS_MILLISECONDS = 15_000;
const MOST_SHOWN = 20;
const began = performance.now();
const minutes = () => `${((performance.now() - began) / 60_000).toFixed(1)} min`;
/** Characters before a count, so that counts stand in a column. */
const MOST_WORDS = 60;
const show = (what: string, found: readonly string[]) => {
  console.log(`${what.padEnd(MOST_WORDS)}${found.length}`);
  for (const text of found.slice(0, MOST_SHOWN)) console.log(`  ${text}`);
};

const links = socatIsHere() ? (['pty', 'tcp'] as const) : (['tcp'] as const);
console.log(`seed ${seed}: ${faults} faults over ${links.join(' and ')}, ${lanes} meters at a time`);
const tally = new Tally();
const progress = setInterval(() => {
  const { faults: done, readings, wrong, hangs, failures } = tally;
  const bad = `${wrong.length} wrong, ${hangs.length} hangs, ${failures.length} failures`;
  console.log(`${minutes()}: ${done} faults, ${readings} readings, ${bad}`);
}, PROGRESS_MILLISECONDS);
await runCampaign({ seed, faults, lanes, links }, tally);
clearInterval(progress);

console.log(`\n${tally.faults} faults, ${tally.readings} readings, ${minutes()}, seed ${seed}\n`);
console.log(tally.table);
console.log('');
show('readings paired wrongly', tally.wrong);
show('operations that hung', tally.hangs);
show('no named end, or no right reading again', tally.failures);
if (faults >= 1000 && tally.missing.length > 0) console.log(`never committed: ${tally.missing.join(', ')}`);

let isReadWell = true;
if (inputs > 0) {
  console.log(`\n${inputs} made-up inputs, seed ${seed}`);
  for (const [what, fuzzed] of Object.entries(await fuzzAll(seed, inputs))) {
    show(`${what}: ${fuzzed.tried} tried, ${fuzzed.accepted} taken, wrong`, fuzzed.faults);
    isReadWell &&= fuzzed.faults.length === 0;
  }
}

let isKept = true;
if (kills > 0) {
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-kills-'));
  const killed = await killAgainAndAgain(folder, kills, seededRandom(seed));
  console.log(`\n${kills} kills of a station that measures, seed ${seed}`);
  show(`${killed.readings} readings told, ${killed.amongReadings} kills among readings, faults`, killed.faults);
  isKept = killed.faults.length === 0;
  rmSync(folder, { recursive: true });
}
process.exit(tally.isGood && isReadWell && isKept ? 0 : 1);
