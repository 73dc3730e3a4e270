import { describe, expect, it } from 'vitest';
import { PAGE, Readings } from '../../core/inspection/readings.ts';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { RunSeries } from '../../renderer/charts/runSeries.ts';
import { TrendFollower } from '../../renderer/measure/trendFollower.ts';
import type { ToTrend } from '../../renderer/measure/trendWorker.ts';
import { guardOf } from '../../renderer/windowBar/guardOf.ts';
import { readyRun, withReadings } from '../core/inspection/walk.ts';

/** A run whose readings note when they are looked at: the packed ones page by page, the latest one by one. */
function counted(): { run: Run; more: (run: Run) => Run; looked: () => number } {
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
  });
  const readings = (from: number, to: number) => Array.from({ length: to - from }, (_, place) => reading(from + place));
  const holding = (readings: Readings): Run => ({
    ...measured,
    readings,
    tally: { ...measured.tally, counted: readings.size, pass: readings.size },
  });
  const pages = Readings.of(readings(0, COUNT - 2 * PAGE))
    .pages(0, COUNT)
    .map((page) => ({
      ...page,
      get ohms() {
        looks += page.count;
        return page.ohms;
      },
    }));
  const all = readings(COUNT - 2 * PAGE, COUNT).reduce((so, one) => so.push(one), Readings.ofPages(pages));
  looks = 0;
  return {
    run: holding(all),
    more: (run) => holding(run.readings.push(reading(run.readings.size))),
    looked: () => {
      const so = looks;
      looks = 0;
      return so;
    },
  };
}

const COUNT = 8 * PAGE;
/** What is looked at for one reading more may be a few hundred, and not all there are. */
const MOST = 1000;

describe('a reading more in a large run', () => {
  it('costs the charts a look at it, and not at all readings', () => {
    const { run, more, looked } = counted();
    const series = new RunSeries(run);
    while (!series.takeIn(run));
    // Pages that were packed here note nothing.
    expect(looked()).toBeGreaterThan(COUNT / 2);
    const after = more(run);
    expect(series.goesOn(after)).toBe(true);
    series.takeIn(after);
    expect(looked()).toBeLessThan(MOST);
    expect(series.taken).toBe(COUNT + 1);
  });

  it('costs the trend a look at it, and not at all readings', async () => {
    const { run, more, looked } = counted();
    const told: ToTrend[] = [];
    const worker = {
      postMessage: (one: ToTrend) => told.push(one),
      terminate: () => undefined,
      addEventListener: () => undefined,
    };
    const follower = new TrendFollower(worker as never, () => undefined);
    follower.follow(run);
    const values = () => told.reduce((sum, one) => sum + (one.kind === 'readings' ? one.page.count : 0), 0);
    await expect.poll(values).toBe(COUNT);
    looked();
    follower.follow(more(run));
    await expect.poll(values).toBe(COUNT + 1);
    expect(looked()).toBeLessThan(MOST);
    expect(told.filter(({ kind }) => kind === 'begin')).toHaveLength(1);
  });

  it('costs the guard bands a look at the latest', () => {
    const { run, looked } = counted();
    const decided: Run = { ...run, decision: { ...run.decision, rule: 'guard-band' } };
    guardOf(decided);
    expect(looked()).toBeLessThan(MOST);
  });
});
