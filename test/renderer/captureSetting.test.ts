import fc from 'fast-check';
import { expect, it } from 'vitest';
import { captureOverrides } from '../../core/contract/live.ts';
import { PARAMETERS, parameterTexts, readParameters } from '../../renderer/hands/captureSetting.ts';

const EMPTY = parameterTexts({});

it('sets nothing by empty fields', () => {
  expect(readParameters(EMPTY)).toEqual({ overrides: {}, wrong: [] });
});

it('reads back what it wrote', () => {
  fc.assert(
    fc.property(
      fc.record(
        {
          settledReadings: fc.integer({ min: 3, max: 20 }),
          releaseMilliseconds: fc.integer({ min: 100, max: 5000 }),
          openDwellMilliseconds: fc.integer({ min: 500, max: 10_000 }),
          bandPercent: fc.integer({ min: 1, max: 500 }).map((hundredths) => hundredths / 10),
        },
        { requiredKeys: [] },
      ),
      (overrides) => {
        expect(readParameters(parameterTexts(overrides))).toEqual({ overrides, wrong: [] });
      },
    ),
  );
});

it('takes nothing that the station would refuse, whatever is typed', () => {
  fc.assert(
    fc.property(fc.constantFrom(...PARAMETERS.map(({ name }) => name)), fc.string(), (name, text) => {
      const { overrides, wrong } = readParameters({ ...EMPTY, [name]: text });
      expect(captureOverrides.safeParse(overrides).success).toBe(true);
      if (text.trim() !== '') expect(wrong.length + Object.keys(overrides).length).toBe(1);
    }),
  );
});

it('names the fields that say nothing, with a comma as a decimal sign or without', () => {
  const texts = { ...EMPTY, settledReadings: '2.5', bandPercent: '2,5', releaseMilliseconds: '1e2' };
  expect(readParameters(texts)).toEqual({
    overrides: { bandPercent: 2.5 },
    wrong: ['settledReadings', 'releaseMilliseconds'],
  });
});

it.each(PARAMETERS)('says truly between what $name can be set', ({ name, lowest, highest }) => {
  const takes = (value: number) => captureOverrides.safeParse({ [name]: value }).success;
  expect([takes(lowest), takes(highest)]).toEqual([true, true]);
  expect([takes(lowest - 0.001), takes(highest + 1)]).toEqual([false, false]);
});
