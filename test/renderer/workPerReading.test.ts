import { List } from 'immutable';
import { describe, expect, it } from 'vitest';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { RunSeries } from '../../renderer/charts/runSeries.ts';
import { TrendFollower } from '../../renderer/measure/trendFollower.ts';
import type { ToTrend } from '../../renderer/measure/trendWorker.ts';
import { guardOf } from '../../renderer/windowBar/guardOf.ts';
import { readyRun, withReadings } from '../core/inspection/walk.ts';

/** A run with so many readings, each of which notes when its value or its standing is looked at. */
function counted(count: number): { run: Run; more: (run: Run) => Run; looked: () => number } {
  const measured = withReadings(readyRun({ plan: { sampleSize: 100, accept: 9 } }), '4702.1');
  const template = measured.readings.first() as Reading;
  let looks = 0;
  const reading = (place: number): Reading => ({
    ...template,
    reading: place + 1,
    piece: place + 1,
    // No reading has an uncertainty: looking for the last that has one must not look through all.
    uncertainty: null,
    get ohms() {
      looks++;
      return template.ohms;
    },
    get voided() {
      looks++;
      return null;
    },
  });
  const holding = (readings: List<Reading>): Run => ({
    ...measured,
    readings,
    tally: { ...measured.tally, counted: readings.size, pass: readings.size },
  });
  return {
    run: holding(List(Array.from({ length: count }, (_, place) => reading(place)))),
    more: (run) => holding(run.readings.push(reading(run.readings.size))),
    looked: () => {
      const so = looks;
      looks = 0;
      return so;
    },
  };
}

const COUNT = 30_000;
/** What is looked at for one reading more may be a few hundred, and not all there are. */
const MOST = 1000;

describe('a reading more in a large run', () => {
  it('costs the charts a look at it, and not at all readings', () => {
    const { run, more, looked } = counted(COUNT);
    const series = new RunSeries(run.window);
    while (!series.follow(run));
    expect(looked()).toBeGreaterThanOrEqual(COUNT);
    series.follow(more(run));
    expect(looked()).toBeLessThan(MOST);
    expect(series.taken).toBe(COUNT + 1);
  });

  it('costs the trend a look at it, and not at all readings', async () => {
    const { run, more, looked } = counted(COUNT);
    const told: ToTrend[] = [];
    const worker = {
      postMessage: (one: ToTrend) => told.push(one),
      terminate: () => undefined,
      addEventListener: () => undefined,
    };
    const follower = new TrendFollower(worker as never, () => undefined);
    follower.follow(run);
    const values = () => told.reduce((sum, one) => sum + (one.kind === 'readings' ? one.values.length : 0), 0);
    await expect.poll(values).toBe(COUNT);
    looked();
    follower.follow(more(run));
    await expect.poll(values).toBe(COUNT + 1);
    expect(looked()).toBeLessThan(MOST);
    expect(told.filter(({ kind }) => kind === 'begin')).toHaveLength(1);
  });

  it('costs the guard bands a look at the latest', () => {
    const { run, looked } = counted(COUNT);
    const decided: Run = { ...run, decision: { ...run.decision, rule: 'guard-band' } };
    guardOf(decided);
    expect(looked()).toBeLessThan(MOST);
  });
});
