import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { buildIfStale } from '../../main/build.js';
import { measureAnalysis } from './analysis.ts';
import { measureCertificate } from './certificates.ts';
import { measureDiagnosis } from './diagnosis.ts';
import { measureFirstPage } from './firstPage.ts';
import { measureLine, measurePaced, measureReconnect } from './lineSpeed.ts';
import { measureNetworks } from './networks.ts';
import { measurePlans } from './plans.ts';
import { measureReadings } from './readings.ts';
import { measureCommits, measureHistory } from './record.ts';
import { type Appending, measureScreen } from './screen.ts';

// `npm run bench`: speed beside a peer in the same run. Absolute times on a shared machine mean little; ratios do.
const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';

function median(values: number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

function row(what: string, value: string, wanted = ''): void {
  console.log(`${what.padEnd(58)}${value.padStart(12)}${wanted && `   ${wanted}`}`);
}

function judged(value: number, least: number): string {
  return `wanted ${least} or more: ${value >= least ? 'met' : 'MISSED'}`;
}

function atMost(value: number, most: number): string {
  return `wanted ${most} or less: ${value <= most ? 'met' : 'MISSED'}`;
}

buildIfStale();

console.log('\nThe whole analysis of a million readings, in a process of its own');
const analysis = measureAnalysis();
const analysed = median(analysis.milliseconds);
row('summary to charts, milliseconds', analysed.toFixed(0), atMost(analysed, 1000));
row('memory above the data, megabytes', analysis.megabytes.toFixed(0), atMost(analysis.megabytes, 200));
row(
  'each reading as it comes, microseconds',
  analysis.microsecondsEach.toFixed(1),
  atMost(analysis.microsecondsEach, 20),
);
if (analysis.peer) {
  const { milliseconds, apart } = analysis.peer;
  row('the same figures with numpy and scipy, milliseconds', median(milliseconds).toFixed(0));
  row('  ours against theirs, times as quick', (median(milliseconds) / analysed).toFixed(2));
  for (const { figure, share } of apart) row(`  ${figure}: apart by, share of its size`, share.toExponential(1));
}

console.log('\nFaults of a ladder of 2000 resistors: every open and short, with its window');
const networks = measureNetworks();
const table = median(networks.faultTable);
row('by updates of one elimination, milliseconds', table.toFixed(0), atMost(table, 1000));
row('  one circuit for each fault would take, times as long', (networks.anew / table).toFixed(0));
row(
  '  apart from that at the most, share of the reading',
  networks.apart.toExponential(1),
  atMost(networks.apart, 1e-9),
);

console.log('\nDiagnosis of a lot of 10 000 readings, of each kind of reel of the simulated bench');
const diagnosed = Math.max(...measureDiagnosis());
row('the slowest of them, milliseconds', diagnosed.toFixed(0), atMost(diagnosed, 100));

console.log('\nChances of acceptance: lots of 500 000, samples of 1250, up to 7 accepted');
const plans = measurePlans();
const evaluated = median(plans.ours.rates);
row('hypergeometric tails a second', evaluated.toFixed(0), judged(evaluated, 100_000));
row('  from exact fractions, share of the chance', plans.ours.apart.toExponential(1), atMost(plans.ours.apart, 1e-12));
if (plans.scipy) {
  row('the same with scipy, a second', median(plans.scipy.rates).toFixed(0));
  row('  from exact fractions, share of the chance', plans.scipy.apart.toExponential(1));
}

console.log('\nCertificates: written to the disk and signed, verified from there, each in a process of its own');
for (const readings of [100_000, 400_000]) {
  const isWanted = readings === 100_000;
  const { writeMilliseconds, verifyMilliseconds, peerMilliseconds, verifyMegabytes, fileMegabytes } =
    measureCertificate(readings);
  console.log(`of ${readings} readings, ${fileMegabytes.toFixed(0)} MB`);
  row('  written, milliseconds', writeMilliseconds.toFixed(0), isWanted ? atMost(writeMilliseconds, 2000) : '');
  row('  verified, milliseconds', verifyMilliseconds.toFixed(0), isWanted ? atMost(verifyMilliseconds, 2000) : '');
  row('  csv-parse and SHA-256 over the same bytes, milliseconds', peerMilliseconds.toFixed(0));
  row('  most memory above the start while it is verified, megabytes', verifyMegabytes.toFixed(0));
}

console.log('\nReadings over a pseudo-terminal, one responder, in turn (medians of rounds)');
const rates = await measureReadings();
const ratios = (ours: number[]): number[] => ours.map((rate, round) => rate / (rates.bare[round] ?? 1));
row('bare loop of the serialport package, queries a second', median(rates.bare).toFixed(0));
row('bare loop with one bare durable insert an answer', median(rates.bareDurable).toFixed(0));
row('whole station, record off, queries a second', median(rates.recordOff).toFixed(0));
row('whole station, every reading durable, queries a second', median(rates.durable).toFixed(0));
row(
  '  record off, against the bare loop',
  median(ratios(rates.recordOff)).toFixed(2),
  judged(median(ratios(rates.recordOff)), 0.9),
);
row(
  '  durable, against the bare loop',
  median(ratios(rates.durable)).toFixed(2),
  judged(median(ratios(rates.durable)), 0.5),
);
const floor = rates.durable.map((rate, round) => rate / (rates.bareDurable[round] ?? 1));
row('  durable, against the bare loop with bare inserts', median(floor).toFixed(2));
row(
  '  what durability costs a reading, microseconds',
  (1e6 / median(rates.durable) - 1e6 / median(rates.recordOff)).toFixed(0),
);

console.log(
  '\nThe record: one reading kept durably, and a history of 100 000 runs (npm run bench:history has 20 million readings)',
);
const commits = measureCommits();
row('bare prepared insert with the same pragmas, a second', median(commits.bare).toFixed(0));
row('one reading in the record, a second', median(commits.record).toFixed(0));
const slower = median(commits.bare.map((rate, round) => rate / (commits.record[round] ?? 1)));
row('  times as long as the bare insert', slower.toFixed(2), atMost(slower, 1.5));
const history = await measureHistory(100_000, 2);
row('from the file to a station that answers, milliseconds', history.start.toFixed(0));
for (const [what, times] of Object.entries(history.firstRows)) {
  row(`first rows of ${what}, milliseconds`, Math.max(...times).toFixed(1), atMost(Math.max(...times), 300));
}

console.log('\nOne line, one responder, in turn: what pairing each answer with its question costs (medians of rounds)');
const line = await measureLine();
const names = {
  bare: 'bare loop of the serialport package',
  session: 'our session, each answer paired',
  meter: 'our meter: value, function and event status together',
  pyserial: 'bare pyserial loop (read_until)',
  termios: 'C termios loop',
} as const;
for (const way of Object.keys(names) as (keyof typeof names)[]) {
  if (line[way].length > 0) row(`${names[way]}, queries a second`, median(line[way]).toFixed(0));
}
for (const way of ['session', 'meter', 'pyserial', 'termios'] as const) {
  if (line[way].length === 0) continue;
  const ratio = median(line[way].map((rate, round) => rate / (line.bare[round] ?? 1)));
  row(`  ${names[way]}, against the bare loop`, ratio.toFixed(2), way === 'session' ? judged(ratio, 0.9) : '');
}

console.log('\nA line that takes its time: share of what the line can carry');
for (const baud of [9600, 19_200, 115_200]) {
  const { meter, bare, terminal, termios } = await measurePaced(baud);
  row(`our meter at ${baud} baud`, meter.toFixed(3), judged(meter, 0.97));
  row('  bare loop of the serialport package, the same bytes', bare.toFixed(3));
  row('  Node without that package, the same bytes', terminal.toFixed(3));
  if (termios !== null) row('  C termios loop, the same bytes', termios.toFixed(3));
}
const reconnect = await measureReconnect();
row(
  'adapter back until the meter is set and has read, milliseconds',
  reconnect.toFixed(0),
  `wanted under 2000: ${reconnect < 2000 ? 'met' : 'MISSED'}`,
);

console.log('\nFirst usable page');
if (existsSync(CHROMIUM)) {
  const taken = await measureFirstPage(CHROMIUM);
  row(
    'server start to usable page, milliseconds (median)',
    median(taken).toFixed(0),
    `wanted under 2000: ${median(taken) < 2000 ? 'met' : 'MISSED'}`,
  );
  row('  slowest of the starts', Math.max(...taken).toFixed(0));
} else {
  console.log(`SKIPPED: no Chromium at ${CHROMIUM} (set CHROMIUM)`);
}

/** The value below which 99 of 100 lie. */
function p99(values: number[]): number {
  return values.toSorted((a, b) => a - b)[Math.ceil(0.99 * values.length) - 1] ?? Number.NaN;
}

function appendingRows({ toPainted, frames, longTasks, busy }: Appending, isOurs: boolean): void {
  const wanted = (value: number, most: number) => (isOurs ? atMost(value, most) : '');
  const longest = Math.max(0, ...longTasks);
  row('  captured to verdict painted, milliseconds, p99', p99(toPainted).toFixed(1), wanted(p99(toPainted), 50));
  row('  frame time, milliseconds, p99', p99(frames).toFixed(1), wanted(p99(frames), 50));
  row('  longest task, milliseconds', longest.toFixed(0), wanted(longest, 100));
  row('  main thread busy, share of the time', busy.toFixed(2), wanted(busy, 0.4));
}

console.log('\nThe measuring screen, 20 readings a second');
if (existsSync(CHROMIUM)) {
  const { small, peer, large } = await measureScreen(CHROMIUM);
  console.log('with 10 000 readings in the run');
  appendingRows(small, true);
  console.log('peer: a page that paints a number with React, and nothing else');
  appendingRows(peer, false);
  console.log('with 1 000 000 readings in the run');
  appendingRows(large.appending, true);
  const opened = median(large.milliseconds);
  row('  opened from the list, milliseconds (median)', opened.toFixed(0), atMost(opened, 2000));
  row('  longest task while it opens, milliseconds', Math.max(0, ...large.openingLongTasks).toFixed(0));
  const panned = Math.max(0, ...large.panningLongTasks);
  row('  longest task while the chart is panned, milliseconds', panned.toFixed(0), atMost(panned, 100));
} else {
  console.log(`SKIPPED: no Chromium at ${CHROMIUM} (set CHROMIUM)`);
}

console.log('\nRenderer bundle');
const assets = join(import.meta.dirname, '../../dist/renderer/assets');
for (const name of readdirSync(assets).filter((file) => /\.(js|css)$/.test(file))) {
  const bytes = readFileSync(join(assets, name));
  row(
    `  ${name}`,
    `${(statSync(join(assets, name)).size / 1000).toFixed(1)} kB`,
    `gzip ${(gzipSync(bytes).length / 1000).toFixed(1)} kB`,
  );
}
