import { readFileSync } from 'node:fs';
import { analyse } from '../../core/statistics/analysis.ts';
import { RunningAnalysis } from '../../core/statistics/runningAnalysis.ts';
import { isRefused } from '../../core/statistics/values.ts';

// One process of the benchmark of the analysis: reads doubles from a file, analyses them, and prints what it found, how long it
// took, and how much memory it took above the data.
const [file = ''] = process.argv.slice(2);
const bytes = readFileSync(file);
const readings = new Float64Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 8);
const LIMITS = { nominal: 4700, lower: 4653, upper: 4747 };
const ROUNDS = 5;

const before = process.memoryUsage.rss();
const milliseconds: number[] = [];
let analysis = analyse(readings, LIMITS);
// The first round is what a cold program takes; what follows is what the work takes.
for (let round = 0; round < ROUNDS; round++) {
  const start = performance.now();
  analysis = analyse(readings, LIMITS);
  milliseconds.push(performance.now() - start);
}
const megabytes = process.resourceUsage().maxRSS / 1024 - before / 2 ** 20;

const running = new RunningAnalysis();
const start = performance.now();
for (const reading of readings) running.add(reading);
const microsecondsEach = ((performance.now() - start) / readings.length) * 1000;

const { summary, andersonDarling, trend, percentiles } = analysis;
if (isRefused(summary) || isRefused(andersonDarling) || isRefused(trend.mannKendall) || isRefused(trend.slope)) {
  throw new Error('a figure of a million readings was refused');
}
if (isRefused(trend.ewma) || isRefused(trend.cusum)) throw new Error('a chart of a million readings was refused');
console.log(
  JSON.stringify({
    milliseconds,
    megabytes,
    microsecondsEach,
    figures: {
      mean: summary.mean,
      'standard deviation': summary.standardDeviation,
      median: percentiles.find(({ share }) => share === 0.5)?.value,
      'Anderson-Darling': andersonDarling.aSquared,
      'tau-b': trend.mannKendall.tau,
      slope: trend.slope.slope,
      'EWMA signals': trend.ewma.count,
      'CUSUM signals': trend.cusum.count,
    },
  }),
);
