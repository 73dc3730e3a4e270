import { describe, expect, test } from 'vitest';
import type { CaptureSetting } from '../../../core/capture/setting.ts';
import { readingsOf } from './circuit.ts';
import { Dice } from './dice.ts';
import { Hands } from './hands.ts';
import { KINDS, type Kind } from './kinds.ts';
import { capturesIn, type Happened, play } from './play.ts';
import { settingForKind } from './settingForKind.ts';
import { type Expected, type Stream, streamOf } from './stream.ts';

/** Standard deviations within which a captured value must lie: once in 500 million by chance. */
const BOUND_DEVIATIONS = 6;
/** Trouble is told at the latest when the time for two taps is over, and a reading later. */
const TOLD_WITHIN = 2500;
/** Of pieces that fill their window and come as fast as can be, so many may be so like the one before. */
const MOST_ASKED_AGAIN = 0.06;

/** Further seeds than the first for a longer look: `CAPTURE_SEEDS=20`. */
const SEEDS = Array.from({ length: Number(process.env.CAPTURE_SEEDS ?? 1) }, (_, index) => index + 1);

describe.each(SEEDS)('pieces of every kind come out once each, seed %i', (seed) => {
  test.each(KINDS)('$name', (kind) => {
    const stream = streamOf(kind, seed);
    const setting = settingForKind(kind, {}, seed);
    const { happened } = play(stream.readings, setting, stream.says);
    const { wrong, askedAgain, found } = judged(stream, happened, setting);

    expect(stream.expected).toHaveLength(kind.pieces);
    expect(wrong).toEqual([]);
    // At the full pace a piece that reads like the one before is not told from one that slipped.
    expect(askedAgain.length).toBeLessThan(MOST_ASKED_AGAIN * kind.pieces);

    // Within six standard deviations of what one reading scatters; or within the drift, which follows from how far the few
    // readings of the reference scattered.
    const inside = found
      .filter(({ one }) => isInside(one, kind))
      .map(({ one, by }) => ({ one, off: ((by.ohms ?? Number.NaN) - (one.ohms as number)) / one.deviationOhms }));
    const bound = (one: Expected) => Math.max(BOUND_DEVIATIONS, setting.driftOhms / one.deviationOhms);
    expect(inside.filter(({ one, off }) => !(Math.abs(off) <= bound(one)))).toEqual([]);

    // All together they scatter as readings of pieces at rest do: nothing is left of the approach but less than the noise.
    const off = inside.map((each) => each.off);
    expect(Math.abs(meanOf(off))).toBeLessThan(0.3);
    expect(Math.sqrt(meanOf(off.map((one) => one ** 2)))).toBeLessThan(1.25);
    if (kind.nominalOhms < 2e7) expect(Math.abs(meanOf(off))).toBeLessThan(0.2);

    expect(troubleWithoutCause(stream, happened)).toEqual([]);
  });
});

test('fingers that are held very still are hardly ever taken for a piece of the window they are near', () => {
  const kind = KINDS.find(({ name }) => name === '2.2 MΩ ±5 %') as Kind;
  const touches = 600;
  const captured = Array.from({ length: touches }, (_, index) => {
    const dice = new Dice(index + 1);
    const hands = new Hands(dice);
    hands.apart(1000);
    // A thousandth from one hundredth of a second to the next.
    hands.fingers(1500, Number.POSITIVE_INFINITY, 0.001);
    hands.apart(1000);
    const readings = readingsOf(hands.between, hands.now, kind.meter, dice);
    return capturesIn(play(readings, settingForKind(kind, {}, index + 1)).happened).length;
  });
  expect(captured.reduce((sum, each) => sum + each, 0)).toBeLessThan(touches / 100);
});

test('these are more than 10 000 pieces', () => {
  expect(KINDS.reduce((sum, { pieces }) => sum + pieces, 0)).toBeGreaterThan(10_000);
});

test.each([0, 1, 2])('without a reference that was read several times pieces still come out once each (%i)', (dof) => {
  const kind = KINDS.find(({ name }) => name === '4.7 kΩ ±1 %') as Kind;
  const stream = streamOf({ ...kind, pieces: 300 }, 77);
  const setting = settingForKind(kind, {}, 1, dof + 1);
  const { happened } = play(stream.readings, setting, stream.says);
  expect(judged(stream, happened, setting).wrong).toEqual([]);
});

/**
 * Which capture is of which piece; what was missed, doubled, captured beside a piece or as something else; and which pieces were
 * asked for again because they read like the one before.
 */
function judged({ expected }: Stream, happened: readonly Happened[], { sameOhms }: CaptureSetting) {
  const captures = capturesIn(happened);
  const wrong: unknown[] = [];
  const askedAgain: Expected[] = [];
  const found: { one: Expected; by: Happened }[] = [];
  for (const one of expected) {
    const [by, ...more] = captures.filter(({ at }) => at >= one.from && at <= one.to);
    const again = happened.filter(({ at, outcome }) => isSameAgain(outcome) && at >= one.from && at <= one.to);
    const before = found.at(-1)?.by.ohms ?? Number.NaN;
    if (by) found.push({ one, by });
    else if (again.length > 0 && Math.abs((again[0]?.ohms ?? Number.NaN) - before) <= sameOhms) askedAgain.push(one);
    else wrong.push(['missed', one]);
    if (more.length > 0) wrong.push(['doubled', one, by, more]);
    if (by && (by.outcome.kind === 'captured-open') !== (one.ohms === null)) wrong.push(['as something else', one, by]);
  }
  const ofPieces = new Set(found.map(({ by }) => by));
  const beside = captures.filter((each) => !ofPieces.has(each));
  return { wrong: beside.length > 0 ? [...wrong, ['beside a piece', beside]] : wrong, askedAgain, found };
}

function isSameAgain(outcome: Happened['outcome']): boolean {
  return outcome.kind === 'trouble' && outcome.why === 'same-again';
}

/** Pieces so far above the window that the meter is on another range are not held to the noise of the window's. */
function isInside({ ohms, what }: Expected, { meter }: Kind): boolean {
  return ohms !== null && !(what === 'far-high' && meter.rangeOhms === null);
}

function troubleWithoutCause({ nuisances }: Stream, happened: readonly Happened[]): Happened[] {
  return happened.filter(
    ({ at, outcome }) =>
      outcome.kind === 'trouble' &&
      !isSameAgain(outcome) &&
      !(outcome.why === 'lifted-too-soon' && nuisances.some(({ from, to }) => at >= from && at <= to + TOLD_WITHIN)),
  );
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
