import { expect, it } from 'vitest';
import { CALLED, confusionTable, type Tried, tryBlind } from './blindTrial.ts';

/** Lots nobody looked at while the diagnosis was made: that was done with other seeds. */
const FIRST_SEED = 500_001;
const LOTS = 4000;

const isRight = ({ cause, said }: Tried) => CALLED[cause].includes(said);

/**
 * A blind set: lots made by a generator that shares no code with the diagnosis and says of each whether anybody could tell, from the
 * size of the effect beside spread, noise and count. Invented; the sizes are common practice.
 */
it('finds the cause of lots it knows nothing of, and says that it cannot tell where nobody could', () => {
  const tried = Array.from({ length: LOTS }, (_, index) => tryBlind(FIRST_SEED + index));
  const good = tried.filter(({ cause }) => cause === 'good');
  const odd = tried.filter(({ cause }) => cause !== 'good');
  const decidable = odd.filter((one) => one.decidable);
  const rest = odd.filter((one) => !one.decidable);
  const claimed = good.filter(({ found }) => found.length > 0);
  const right = decidable.filter(isRight);
  const misled = rest.filter((one) => !isRight(one) && one.said !== 'can’t tell' && one.said !== 'none');
  console.info(
    [
      `${LOTS} lots of the blind set from seed ${FIRST_SEED}`,
      `decidable: ${right.length} of ${decidable.length} right and alone in the first place (${percent(right, decidable)})`,
      ...confusionTable(decidable).map((line) => `  ${line}`),
      `not decidable: ${misled.length} of ${rest.length} called something else (${percent(misled, rest)})`,
      ...confusionTable(rest).map((line) => `  ${line}`),
      `in order: something said of ${claimed.length} of ${good.length} (${percent(claimed, good)})`,
    ].join('\n'),
  );
  expect(new Set(decidable.map(({ cause }) => cause)).size).toBe(Object.keys(CALLED).length - 1);
  expect(decidable.length).toBeGreaterThan(0.6 * odd.length);
  expect(right.length).toBeGreaterThanOrEqual(0.95 * decidable.length);
  expect(misled.length).toBeLessThanOrEqual(0.1 * rest.length);
  expect(good.length).toBeGreaterThan(500);
  expect(claimed.length).toBeLessThanOrEqual(0.01 * good.length);
});

it('makes the same lot of the same seed, with nothing but numbers, in the order of time', () => {
  for (let seed = 1; seed <= 200; seed++) {
    const { lot, found } = tryBlind(seed);
    expect(tryBlind(seed)).toEqual({ ...tryBlind(seed), lot, found });
    const times = lot.readings.map(({ atMilliseconds }) => atMilliseconds);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    for (const { ohms } of lot.readings) expect(ohms === null || Number.isFinite(ohms)).toBe(true);
  }
});

function percent(part: readonly unknown[], of: readonly unknown[]): string {
  return `${((100 * part.length) / of.length).toFixed(2)} %`;
}
