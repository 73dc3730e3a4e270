import { parseArgs } from 'node:util';
import { measureHistory } from './record.ts';

// `npm run bench:history`: a record of 100 000 runs with 20 million readings, some 10 GB in the folder for temporary files, gone after.
// `npm run bench:history -- --runs 100000 --readings 200`, the readings of each run.
const { values } = parseArgs({
  options: { runs: { type: 'string', default: '100000' }, readings: { type: 'string', default: '200' } },
});
const [runs, readings] = [Number(values.runs), Number(values.readings)];
const MOST_MILLISECONDS = 300;

const { entries, bytes, start, overview, firstRows } = await measureHistory(runs, readings);
console.log(`${runs} runs, ${runs * readings} readings, ${entries} entries, ${(bytes / 1e9).toFixed(1)} GB`);
console.log(`from the file to a station that answers: ${start.toFixed(0)} ms, the tail of the record checked`);
const slowest = (times: readonly number[]) => Math.max(...times);
console.log(`the latest runs: ${slowest(overview).toFixed(1)} ms`);
let isMet = true;
for (const [what, times] of Object.entries(firstRows)) {
  isMet &&= slowest(times) < MOST_MILLISECONDS;
  console.log(`first rows of ${what}: ${slowest(times).toFixed(1)} ms`);
}
console.log(`wanted under ${MOST_MILLISECONDS} ms: ${isMet ? 'met' : 'MISSED'}`);
