import { expect, it } from 'vitest';
import type { Row } from '../../../core/certificate/format.ts';
import { ALL_UP_TO, AT_EACH_END, MOST_BETWEEN, PaperReadings } from '../../../core/certificate/paperReadings.ts';

/** So many readings, those numbered here not simply passed. */
function readings(count: number, isOdd: (reading: number) => boolean) {
  const chosen = new PaperReadings();
  for (let reading = 1; reading <= count; reading++) {
    chosen.add({ row: 'reading', item: String(reading), verdict: isOdd(reading) ? 'fail-high' : 'pass' } satisfies Row);
  }
  const { rows, ...rest } = chosen.printed();
  return { numbers: rows.map(({ item }) => Number(item)), ...rest };
}

const upTo = (last: number) => Array.from({ length: last }, (_, index) => index + 1);

it.each([0, 1, AT_EACH_END, 3 * AT_EACH_END + 7, ALL_UP_TO])('prints all of %i readings', (count) => {
  expect(readings(count, () => true)).toEqual({ numbers: upTo(count), of: count, notPassed: null });
});

it.each([ALL_UP_TO + 1, ALL_UP_TO + 99, ALL_UP_TO + 100, 12_345])(
  'prints of %i the ends, and what did not pass',
  (count) => {
    const odd = new Set([
      1,
      AT_EACH_END,
      AT_EACH_END + 1,
      5000,
      ALL_UP_TO,
      count - AT_EACH_END,
      count - AT_EACH_END + 1,
      count,
    ]);
    const between = [...odd].filter((number) => number > AT_EACH_END && number <= count - AT_EACH_END);
    const { numbers, of, notPassed } = readings(count, (reading) => odd.has(reading));
    const last = upTo(count).slice(-AT_EACH_END);
    expect(numbers).toEqual([...upTo(AT_EACH_END), ...between.sort((one, other) => one - other), ...last]);
    expect(of).toBe(count);
    expect(notPassed).toBe(between.length);
  },
);

it('counts also those that did not pass and are not printed, where they are too many', () => {
  const { numbers, notPassed } = readings(ALL_UP_TO + 5, () => true);
  expect(numbers).toHaveLength(2 * AT_EACH_END + MOST_BETWEEN);
  expect(notPassed).toBe(ALL_UP_TO + 5 - 2 * AT_EACH_END);
  expect(numbers).toEqual(numbers.toSorted((one, other) => one - other));
});
