import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Extremes } from '../../../core/chart/extremes.ts';
import { Thinned } from '../../../core/chart/thinned.ts';
import { normals } from '../statistics/seeded.ts';

type Point = readonly [step: number, y: number, isKept: boolean];

const value = fc.oneof(fc.integer({ min: -5, max: 5 }), fc.double({ noNaN: true }));
const points = fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), value, fc.boolean()), { maxLength: 700 });
const most = fc.integer({ min: 12, max: 90 });
const share = fc.double({ min: -0.2, max: 1.2, noNaN: true });

function made(all: readonly Point[]): Thinned {
  const thinned = new Thinned();
  let x = 0;
  for (const [step, y, isKept] of all) {
    x += step;
    thinned.append(x, y, isKept);
  }
  return thinned;
}

/** The places with x in the stretch, found by looking at each. */
function inside(thinned: Thinned, from: number, to: number): number[] {
  return Array.from({ length: thinned.size }, (_, place) => place).filter(
    (place) => thinned.x(place) >= from && thinned.x(place) <= to,
  );
}

/** A stretch of the points, anywhere on them or beside them. */
function stretchOf(thinned: Thinned, [one, other]: readonly [number, number]): [number, number] {
  const last = thinned.size === 0 ? 1 : thinned.x(thinned.size - 1);
  return [Math.min(one, other) * last, Math.max(one, other) * last];
}

describe('the extremes of any stretch', () => {
  it('are those found by looking at each value, the first of equal ones', () => {
    const values = fc.array(value, { minLength: 1, maxLength: 600 });
    fc.assert(
      fc.property(values, fc.nat(), fc.nat(), (all, one, other) => {
        const extremes = new Extremes();
        for (const each of all) extremes.append(each);
        const [from, to] = [one % all.length, other % all.length].sort((a, b) => a - b) as [number, number];
        const part = all.slice(from, to + 1);
        const { lowest, highest } = extremes.between(from, to + 1);
        // By comparison, not by identity: 0 and -0 are one value.
        expect(lowest).toBe(from + part.findIndex((each) => part.every((other) => each <= other)));
        expect(highest).toBe(from + part.findIndex((each) => part.every((other) => each >= other)));
      }),
    );
  });

  it('are the same whether there was room from the start or it grew', () => {
    const next = normals(3);
    const [grown, roomy] = [new Extremes(), new Extremes(5000)];
    for (let place = 0; place < 5000; place++) {
      const each = next();
      grown.append(each);
      roomy.append(each);
    }
    for (let from = 0; from < 5000; from += 37) expect(grown.between(from, 5000)).toEqual(roomy.between(from, 5000));
  });
});

describe('thinning a stretch', () => {
  it('leaves places in order, each once, of the stretch and at most its neighbours', () => {
    fc.assert(
      fc.property(points, most, fc.tuple(share, share), (all, room, shares) => {
        const thinned = made(all);
        const [from, to] = stretchOf(thinned, shares);
        const { line, kept } = thinned.stretch(from, to, room, room);
        const there = inside(thinned, from, to);
        for (const list of [line, kept]) expect(list).toEqual([...new Set(list)].toSorted((a, b) => a - b));
        for (const place of kept) expect(there).toContain(place);
        const [first, last] = [there[0], there.at(-1)];
        if (first === undefined || last === undefined) return;
        for (const place of line) expect(place >= first - 1 && place <= last + 1).toBe(true);
        // The line reaches the edges: its ends are the neighbours where there are any.
        expect(line[0]).toBe(Math.max(0, first - 1));
        expect(line.at(-1)).toBe(Math.min(thinned.size - 1, last + 1));
      }),
    );
  });

  it('never thins away an extreme', () => {
    fc.assert(
      fc.property(points, most, fc.tuple(share, share), (all, room, shares) => {
        const thinned = made(all);
        const [from, to] = stretchOf(thinned, shares);
        const there = inside(thinned, from, to);
        if (there.length === 0) return;
        const left = thinned.stretch(from, to, room, room).line.filter((place) => there.includes(place));
        const values = (places: readonly number[]) => places.map((place) => thinned.y(place));
        // An end that is a neighbour may be the extreme of its bucket, but then it is further out than all of the stretch.
        const drawn = values(thinned.stretch(from, to, room, room).line);
        expect(Math.min(...drawn)).toBeLessThanOrEqual(Math.min(...values(there)));
        expect(Math.max(...drawn)).toBeGreaterThanOrEqual(Math.max(...values(there)));
        if (there.length === thinned.size) {
          expect(Math.min(...values(left))).toBe(Math.min(...values(there)));
          expect(Math.max(...values(left))).toBe(Math.max(...values(there)));
        }
      }),
    );
  });

  it('keeps every point that is to be kept while there is room, and their extremes when there is not', () => {
    fc.assert(
      fc.property(points, most, fc.tuple(share, share), (all, room, shares) => {
        const thinned = made(all);
        const [from, to] = stretchOf(thinned, shares);
        const wanted = inside(thinned, from, to).filter((place) => all[place]?.[2]);
        const { line, kept, toKeep } = thinned.stretch(from, to, room, room);
        expect(toKeep).toBe(wanted.length);
        for (const place of kept) expect(wanted).toContain(place);
        for (const place of kept) expect(line).toContain(place);
        if (wanted.length <= room) {
          expect(kept).toEqual(wanted);
          return;
        }
        const values = (places: readonly number[]) => places.map((place) => thinned.y(place));
        expect(kept[0]).toBe(wanted[0]);
        expect(kept.at(-1)).toBe(wanted.at(-1));
        expect(Math.min(...values(kept))).toBe(Math.min(...values(wanted)));
        expect(Math.max(...values(kept))).toBe(Math.max(...values(wanted)));
      }),
    );
  });

  it('leaves no more than asked for, and all where they are few', () => {
    fc.assert(
      fc.property(points, most, most, fc.tuple(share, share), (all, room, roomKept, shares) => {
        const thinned = made(all);
        const [from, to] = stretchOf(thinned, shares);
        const { line, kept } = thinned.stretch(from, to, room, roomKept);
        expect(kept.length).toBeLessThanOrEqual(roomKept);
        expect(line.length).toBeLessThanOrEqual(room + kept.length);
        const there = inside(thinned, from, to);
        if (there.length + 2 <= room) for (const place of there) expect(line).toContain(place);
      }),
    );
  });

  it('covers the same pixels as the whole line: in each bucket what a line can show of it', () => {
    // By the paper's own claim (M4): first, last, lowest and highest of each group of points. Found here group by group.
    fc.assert(
      fc.property(points, most, (all, room) => {
        const thinned = made(all);
        if (thinned.size <= room) return;
        const { line } = thinned.stretch(0, Number.MAX_VALUE, room, 12);
        const buckets = Math.floor(room / 4) - 1;
        const size = 2 ** Math.ceil(Math.log2(thinned.size / buckets));
        for (let start = 0; start < thinned.size; start += size) {
          const group = Array.from({ length: Math.min(size, thinned.size - start) }, (_, index) => start + index);
          const ys = group.map((place) => thinned.y(place));
          expect(line).toContain(group[0]);
          expect(line).toContain(group.at(-1));
          const left = line.filter((place) => group.includes(place)).map((place) => thinned.y(place));
          expect(Math.min(...left)).toBe(Math.min(...ys));
          expect(Math.max(...left)).toBe(Math.max(...ys));
        }
      }),
    );
  });

  it('leaves a point in its place while the stretch moves over it', () => {
    const thinned = new Thinned();
    for (let place = 0; place < 20_000; place++) thinned.append(place, Math.sin(place / 3), false);
    const left = [4000, 4001, 4007].map((from) => thinned.stretch(from, from + 9000, 200, 12).line);
    // Away from the cut buckets at the ends nothing changes.
    const within = left.map((line) => line.filter((place) => place > 4600 && place < 12_400));
    expect(within[1]).toEqual(within[0]);
    expect(within[2]).toEqual(within[0]);
  });

  it('refuses what is no number and what comes out of order', () => {
    const thinned = new Thinned();
    thinned.append(5, 1, false);
    expect(() => thinned.append(6, Number.NaN, false)).toThrow('figure-not-finite');
    expect(() => thinned.append(Number.POSITIVE_INFINITY, 1, false)).toThrow('figure-not-finite');
    expect(() => thinned.append(4, 1, false)).toThrow('chart-out-of-order');
    expect(thinned.size).toBe(1);
  });

  it('has room for infinity: an overload is the highest of all', () => {
    const thinned = new Thinned();
    for (let place = 0; place < 1000; place++)
      thinned.append(place, place === 500 ? Number.POSITIVE_INFINITY : 1, false);
    expect(thinned.stretch(0, 999, 12, 12).line).toContain(500);
  });
});

describe('a million readings', () => {
  it('are taken in, kept and thinned fast enough for a screen', () => {
    const next = normals(7);
    const values = Float64Array.from({ length: 1_000_000 }, next);
    const before = process.memoryUsage().arrayBuffers;
    const begun = performance.now();
    const thinned = new Thinned(values.length);
    for (let place = 0; place < values.length; place++) {
      const y = values[place] as number;
      thinned.append(place + 1, y, Math.abs(y) > 3);
    }
    const built = performance.now() - begun;
    const bytes = process.memoryUsage().arrayBuffers - before;

    const stretches = performance.now();
    let points = 0;
    for (let from = 0; from < 500_000; from += 5000)
      points += thinned.stretch(from, from + 500_000, 2000, 200).line.length;
    const each = (performance.now() - stretches) / 100;

    const appends = performance.now();
    for (let more = 0; more < 100_000; more++) thinned.append(1_000_001 + more, more % 7, false);
    const append = (performance.now() - appends) / 100_000;
    console.log(
      `thinning: 1e6 built in ${built.toFixed(0)} ms, ${(bytes / 1e6).toFixed(1)} MB; a stretch ${each.toFixed(2)} ms; an append ${(1000 * append).toFixed(2)} µs`,
    );
    expect(points / 100).toBeGreaterThan(1000);
    // Bounds far above what is measured, so that a loaded machine passes and a mistake of the order does not.
    expect(built).toBeLessThan(2000);
    expect(bytes).toBeLessThan(40e6);
    expect(each).toBeLessThan(20);
    expect(append).toBeLessThan(0.02);
  });
});
