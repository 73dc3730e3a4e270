import { describe, expect, test } from 'vitest';
import { KINDS, type Kind } from './kinds.ts';
import { capturesIn, type Happened, play } from './play.ts';
import { settingForKind } from './settingForKind.ts';
import { type Expected, type Stream, streamOf } from './stream.ts';

/** Standard deviations within which a captured value must lie: once in 500 million by chance. */
const BOUND_DEVIATIONS = 6;
/** Trouble is told at the latest when the time for two taps is over, and a reading later. */
const TOLD_WITHIN = 2500;

/** Further seeds than the first for a longer look: `CAPTURE_SEEDS=20`. */
const SEEDS = Array.from({ length: Number(process.env.CAPTURE_SEEDS ?? 1) }, (_, index) => index + 1);

describe.each(SEEDS)('pieces of every kind come out once each, seed %i', (seed) => {
  test.each(KINDS)('$name', (kind) => {
    const stream = streamOf(kind, seed);
    const setting = settingForKind(kind, {}, seed);
    const { happened } = play(stream.readings, setting, stream.says);
    const captures = capturesIn(happened);

    expect(stream.expected).toHaveLength(kind.pieces);
    expect(astray(stream, captures)).toEqual([]);
    expect(captures).toHaveLength(kind.pieces);

    // Within six standard deviations of what one reading scatters; or within the drift, which follows from how far the few
    // readings of the reference scattered.
    const off = stream.expected.map((one, index) => deviationsOff(one, captures[index] as Happened));
    const bound = (one: Expected) => Math.max(BOUND_DEVIATIONS, setting.driftOhms / one.deviationOhms);
    expect(
      stream.expected.filter((one, index) => isInside(one, kind) && !(Math.abs(off[index] as number) <= bound(one))),
    ).toEqual([]);

    // All together they scatter as readings of pieces at rest do: nothing is left of the approach but less than the noise.
    const inside = off.filter((_, index) => isInside(stream.expected[index] as Expected, kind));
    expect(Math.abs(meanOf(inside))).toBeLessThan(1.2);
    expect(Math.sqrt(meanOf(inside.map((one) => one ** 2)))).toBeLessThan(2);
    if (kind.nominalOhms < 2e7) expect(Math.abs(meanOf(inside))).toBeLessThan(0.2);

    expect(troubleWithoutCause(stream, happened)).toEqual([]);
  });
});

test('these are more than 10 000 pieces', () => {
  expect(KINDS.reduce((sum, { pieces }) => sum + pieces, 0)).toBeGreaterThan(10_000);
});

test.each([0, 1, 2])('without a reference that was read several times pieces still come out once each (%i)', (dof) => {
  const kind = KINDS.find(({ name }) => name === '4.7 kΩ ±1 %') as Kind;
  const stream = streamOf({ ...kind, pieces: 300 }, 77);
  const setting = settingForKind(kind, {}, 1, dof + 1);
  const captures = capturesIn(play(stream.readings, setting, stream.says).happened);
  expect(astray(stream, captures)).toEqual([]);
});

/** What was missed, doubled, captured beside a piece or as something else. */
function astray({ expected }: Stream, captures: readonly Happened[]): unknown[] {
  const wrong: unknown[] = [];
  let next = 0;
  for (const one of expected) {
    const before = captures.slice(next).findIndex(({ at }) => at >= one.from);
    const from = before < 0 ? captures.length : next + before;
    if (from > next) wrong.push(['beside a piece', captures.slice(next, from)]);
    const beyond = captures.slice(from).findIndex(({ at }) => at > one.to);
    const to = beyond < 0 ? captures.length : from + beyond;
    const found = captures.slice(from, to);
    next = to;
    if (found.length === 0) wrong.push(['missed', one]);
    if (found.length > 1) wrong.push(['doubled', one, found]);
    if (found.length === 1 && (found[0]?.outcome.kind === 'captured-open') !== (one.ohms === null)) {
      wrong.push(['as something else', one, found]);
    }
  }
  if (next < captures.length) wrong.push(['after the last piece', captures.slice(next)]);
  return wrong;
}

function deviationsOff(one: Expected, found: Happened): number {
  return one.ohms === null ? 0 : ((found.ohms ?? Number.NaN) - one.ohms) / one.deviationOhms;
}

/** Pieces so far above the window that the meter is on another range are not held to the noise of the window's. */
function isInside({ ohms, what }: Expected, { meter }: Kind): boolean {
  return ohms !== null && !(what === 'far-high' && meter.rangeOhms === null);
}

function troubleWithoutCause({ nuisances }: Stream, happened: readonly Happened[]): Happened[] {
  return happened.filter(
    ({ at, outcome }) =>
      outcome.kind === 'trouble' &&
      !(outcome.why === 'lifted-too-soon' && nuisances.some(({ from, to }) => at >= from && at <= to + TOLD_WITHIN)),
  );
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
