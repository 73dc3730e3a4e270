import { describe, expect, it } from 'vitest';
import { Readings } from '../../core/inspection/readings.ts';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { RunSeries } from '../../renderer/charts/runSeries.ts';
import { reelMapOf } from '../../renderer/figures/reelMapPoints.ts';
import { standingOf } from '../../renderer/verdict/verdictWords.ts';
import { badCheck, OVERLOAD, readyRun, walk, withReadings } from '../core/inspection/walk.ts';

/** All that a series says, to be compared. */
function said(series: RunSeries) {
  const { line, bins, nonconforming, suspect } = series;
  const places = Array.from({ length: line.size }, (_, place) => place);
  return {
    points: places.map((place) => [line.x(place), line.y(place), series.standingAt(place), series.readingAt(place)]),
    counts: bins.bins.map(({ count }) => count),
    kept: line.stretch(0, 1e9, 1000, 1000).kept,
    fitted: series.fitted(),
    nonconforming,
    suspect,
  };
}

/** The same made at once from the run as it is. */
function anew(run: Run) {
  return said(followed(null, run));
}

/** What the charts of the run are drawn from, as they go on with what there was or begin anew. */
function followed(before: RunSeries | null, run: Run): RunSeries {
  const series = before?.goesOn(run) ? before : new RunSeries(run);
  while (!series.takeIn(run));
  return series;
}

describe('what the charts of a run are drawn from', () => {
  const plan = { sampleSize: 30, accept: 29 };

  it('follows a run through readings, voids and suspects as if made anew each time', () => {
    let run = readyRun({ plan });
    let series = followed(null, run);
    const steps: ((run: Run) => Run)[] = [
      (before) => withReadings(before, '4702.13', '4800.00', OVERLOAD, '4690.40'),
      (before) => withReadings(before, '4701.00'),
      (before) => walk(before, { type: 'void-reading', reading: 2, by: 'B', reason: 'slipped' }),
      (before) => withReadings(before, '4703.00', '4100.00'),
      (before) => walk(before, badCheck(before, 'meter')),
    ];
    for (const step of steps) {
      run = step(run);
      series = followed(series, run);
      expect(said(series)).toEqual(anew(run));
    }
    expect(series.suspect).toBeGreaterThan(0);
  });

  it('marks what does not conform and what is suspect, and nothing else', () => {
    const run = withReadings(readyRun({ plan }), '4702.13', '4800.00', OVERLOAD, '4690.40', '4100.00');
    expect(anew(run).kept).toEqual([1, 2, 4]);
    expect(anew(run).nonconforming).toBe(3);
    expect(anew(run).points[2]?.[1]).toBe(Number.POSITIVE_INFINITY);
  });

  it('adds only what is new, and tells of it by its version', () => {
    const first = withReadings(readyRun({ plan }), '4702.13', '4701.00');
    const series = followed(null, first);
    const { version } = series;
    expect(followed(series, first)).toBe(series);
    expect(series.version).toBe(version);
    expect(followed(series, withReadings(first, '4703.00'))).toBe(series);
    expect(series.version).toBe(version + 1);
    expect(series.line.size).toBe(3);
  });

  it('takes a large run in piece by piece', () => {
    const [reading] = withReadings(readyRun({ plan }), '4702.13').readings;
    const many = Readings.of(
      Array.from({ length: 100_000 }, (_, index) => ({ ...(reading as Reading), reading: index + 1 })),
    );
    const run = { ...readyRun({ plan }), readings: many };
    const series = new RunSeries(run);
    let calls = 1;
    while (!series.takeIn(run)) calls++;
    expect(calls).toBeGreaterThan(1);
    expect(series.line.size).toBe(100_000);
  });

  it('leaves what is off the picture out of the curve', () => {
    const run = withReadings(readyRun({ plan }), '4702', '4704', '9000', OVERLOAD, '4706');
    expect(anew(run).fitted).toMatchObject({ n: 3, mean: 4704 });
  });
});

it('the map of a reel has every reading that is not void, rising along the reel, each with its own mark', () => {
  const plan = { sampleSize: 30, accept: 29 };
  const run = withReadings(readyRun({ plan }), '4702.13', '4800.00', OVERLOAD, '4690.40');
  const taken = [9, 4, 7, 1];
  const place = (reading: Reading) => ({ ...reading, position: taken[reading.reading - 1] as number });
  const { readings, points } = reelMapOf({ readings: run.readings.changed(0, 4, place) });
  expect(readings.map(({ position }) => position)).toEqual([1, 4, 7, 9]);
  expect([0, 1, 2, 3].map((place) => points.x(place))).toEqual([1, 4, 7, 9]);
  const { kept } = points.stretch(0, 10, 12, 12);
  expect(kept.map((place) => standingOf(readings[place] as Reading))).toEqual(['fail-high', 'open']);
});
