import { describe, expect, it } from 'vitest';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import { fieldsOf, isNumber } from '../../instruments/scpi/message.ts';
import { fuzzAll } from './fuzz.ts';
import { fuzzLines, hearLines } from './fuzzLines.ts';
import { fuzzMessages } from './fuzzMessages.ts';
import { fuzzNumbers } from './fuzzNumbers.ts';
import { exactNumber } from './numberOracle.ts';
import { seededRandom } from './seededRandom.ts';

describe('what reads a meter’s bytes', () => {
  it.each([
    ['a fixed seed', 20_261],
    ['a seed of its own', Math.floor(Math.random() * 2 ** 31)],
  ])(
    'never crashes, reads nothing wrongly and takes nothing for a number that is none (%s: %i)',
    async (_what, seed) => {
      const fuzzed = await fuzzAll(seed, 40_000);
      for (const [what, { tried, accepted, faults }] of Object.entries(fuzzed)) {
        expect(faults, `${what}, seed ${seed}`).toEqual([]);
        // Enough of them must be sound that taking everything for wrong would show.
        expect(accepted, what).toBeGreaterThan(tried / 20);
      }
    },
  );
});

describe('the fuzz finds', () => {
  const found = (fuzzed: { faults: string[] }) => fuzzed.faults.length;
  const value = (text: string) => ({ kind: 'value', text }) as const;

  it.each<[string, typeof meterNumber]>([
    ['parseFloat', (raw) => (Number.isNaN(Number.parseFloat(raw)) ? null : value(String(Number.parseFloat(raw))))],
    ['Number()', (raw) => (Number.isNaN(Number(raw)) ? null : value(String(Number(raw))))],
    ['a reader that drops the sign', (raw) => meterNumber(raw.replace('-', ''))],
    ['a reader that forgives what stands around', (raw) => meterNumber(raw.trim())],
    ['a reader of doubles', (raw) => meterNumber(raw) && value(Number(raw).toFixed(9))],
    ['a reader that knows no infinity', (raw) => meterNumber(raw) && value(raw.trim())],
    ['a reader that refuses exponents', (raw) => (/e/i.test(raw) ? null : meterNumber(raw))],
  ])('%s at fault', (_what, read) => {
    expect(found(fuzzNumbers(seededRandom(1), 20_000, read))).toBeGreaterThan(0);
  });

  it.each<[string, Parameters<typeof fuzzMessages>[2]]>([
    ['fields cut inside quotes', { fieldsOf: (text) => text.split(';'), isNumber }],
    ['blanks dropped', { fieldsOf: (text) => fieldsOf(text).map((field) => field.trim()), isNumber }],
    ['a number by Number()', { fieldsOf, isNumber: (field, wanted) => Number(field) === wanted }],
    [
      'a number by its first digits',
      { fieldsOf, isNumber: (field, wanted) => Number.parseInt(field ?? '', 10) === wanted },
    ],
  ])('%s', (_what, product) => {
    expect(found(fuzzMessages(seededRandom(1), 5000, product))).toBeGreaterThan(0);
  });

  it('lines made of chunks', async () => {
    const perChunk: typeof hearLines = async (chunks, ends) => {
      const heard = await Promise.all(chunks.map((chunk) => hearLines([chunk], ends)));
      return { lines: heard.flatMap(({ lines }) => lines), overlong: 0 };
    };
    expect(found(await fuzzLines(seededRandom(1), 200, perChunk))).toBeGreaterThan(0);
  });
});

describe('the oracle', () => {
  // Examples of NR1, NR2 and NR3 as in IEEE 488.2 8.7.2 to 8.7.4 (forms from memory), then what meters make of them.
  it.each([
    ['123', 123n, 0, true],
    ['+123', 123n, 0, true],
    ['-12.3', -123n, -1, true],
    ['+1.23E+4', 123n, 2, true],
    ['-1.23E-4', -123n, -6, true],
    ['1.', 1n, 0, false],
    ['.5', 5n, -1, false],
    [' 1e3 ', 1n, 3, false],
  ])('knows %j', (text, digits, power, isStrict) => {
    expect(exactNumber(text)).toMatchObject({ digits, power, isStrict });
  });

  it.each(['', ' ', '+', '.', 'E5', '1E', '1E+', '1 2', '1,2', '1..2', '+-1', '0x1', '\uff11', '1\n', '1E1.5', 'NaN'])(
    'knows that %j is none',
    (text) => expect(exactNumber(text)).toBeNull(),
  );
});
