import { describe, expect, it } from 'vitest';
import { likelyReference, type ReferenceDraft, readReference } from '../../renderer/ready/referenceDraft.ts';

const FULL: ReferenceDraft = { name: 'RS-1', ohms: '4k7', uncertainty: '0.01 %', due: '2027-01-31' };

describe('a reference resistor that is entered', () => {
  it('is read as it is written on its certificate', () => {
    expect(readReference(FULL).reference).toEqual({
      name: 'RS-1',
      ohms: '4700',
      uncertaintyOhms: '0.47',
      due: '2027-01-31',
    });
    expect(readReference({ ...FULL, uncertainty: '±0R05' }).reference?.uncertaintyOhms).toBe('0.05');
  });

  it.each([
    [{ name: '' }, 'name', 'Must not be empty'],
    [{ ohms: '0' }, 'ohms', 'Must be above 0'],
    [{ uncertainty: 'small' }, 'uncertainty', '"small" is not a resistance'],
    [{ uncertainty: '' }, 'uncertainty', 'is not a resistance'],
    [{ due: 'soon' }, 'due', 'Expected a day like'],
  ] as [Partial<ReferenceDraft>, keyof ReferenceDraft, string][])(
    'is refused beside its field: %o',
    (over, field, text) => {
      const { reference, problems } = readReference({ ...FULL, ...over });
      expect(reference).toBeNull();
      expect(Object.keys(problems)).toEqual([field]);
      expect(problems[field]).toContain(text);
    },
  );
});

describe('the reference resistor to begin with', () => {
  const one = (name: string, ohms: string, due = '2027-01-31') => ({ name, ohms, uncertaintyOhms: '0.1', due });
  const known = [
    one('low', '100'),
    one('near', '5000'),
    one('nearest, overdue', '4700', '2026-01-31'),
    one('high', '1000000'),
  ];
  const window = { nominal: '4700', lower: '4653', upper: '4747' };

  it('is the one used last, else the nearest that is in date, else none', () => {
    expect(likelyReference(known, window, 'high', '2026-11-25')?.name).toBe('high');
    expect(likelyReference(known, window, null, '2026-11-25')?.name).toBe('near');
    expect(likelyReference(known, window, 'gone', '2028-01-01')).toBeNull();
  });

  it('is the one its part asks for, where that is known, in date and none was used yet', () => {
    const first = (wanted: string, lastUsed: string | null = null) =>
      likelyReference(known, window, lastUsed, '2026-11-25', wanted)?.name;
    expect(first('low')).toBe('low');
    expect(first('low', 'high')).toBe('high');
    expect(first('nearest, overdue')).toBe('near');
    expect(first('sold long ago')).toBe('near');
  });
});
