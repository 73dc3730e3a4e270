import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oddValue } from '../../core/part/oddValue.ts';
import { part } from '../../core/part/part.ts';
import { changesOf } from '../../core/part/partsPreview.ts';
import { EMPTY_DRAFT, readDraft } from '../../renderer/receive/draft.ts';
import { fillFromMarking, fillFromPart } from '../../renderer/receive/filled.ts';
import { changedSince, draftOfPart, isUntouched, type PartDraft, readPart } from '../../renderer/receive/partDraft.ts';
import { anyPart } from '../core/part/anyPart.ts';

const PLAIN = part.parse({ number: 'TF-4K7-1', nominal: '4k7', tolerance: '1 %' });
const marked = (over: object) => ({
  ohms: '4700',
  tolerancePercent: null,
  ppmPerKelvin: null,
  scheme: 'bands' as const,
  words: '',
  cautions: [],
  ...over,
});

describe('a part in the receiving form', () => {
  it('comes back from the form as it went in (property)', () => {
    fc.assert(
      fc.property(anyPart, (known) => {
        const { part: back, problems } = readPart({ ...EMPTY_DRAFT, ...draftOfPart(known) }, known.reference);
        expect(problems).toEqual({});
        // With simple acceptance no guard band is asked for; an AQL is spelt as the standard does.
        const simple = known.decision.rule === 'simple-acceptance';
        const decision = simple ? { ...known.decision, guardFactor: '1' } : known.decision;
        expect(back && changesOf(back, { ...known, decision })).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });

  it('fills every field of the form but those of the lot, and changes none of the lot', () => {
    const before = { ...EMPTY_DRAFT, inspector: 'Ines', lotNumber: 'L-1', reel: 'R-1', size: '5000', tolerance: '5 %' };
    const { draft, filled } = fillFromPart(before, { ...PLAIN, supplier: 'Example Supply' });
    const { inspector, lotNumber, reel, size, severity, overrideBy, overrideReason, ...ofPart } = draft;
    expect([inspector, lotNumber, reel, size]).toEqual(['Ines', 'L-1', 'R-1', '5000']);
    expect([severity, overrideBy, overrideReason]).toEqual(['by-rule', '', '']);
    expect(ofPart).toEqual(draftOfPart({ ...PLAIN, supplier: 'Example Supply' }));
    expect(filled.before).toBe(before);
  });

  it('keeps the supplier that was given where the part names none', () => {
    expect(fillFromPart({ ...EMPTY_DRAFT, supplier: 'S' }, PLAIN).draft.supplier).toBe('S');
  });

  it('says which fields were changed since, each once', () => {
    const from = draftOfPart(PLAIN);
    const draft = { ...EMPTY_DRAFT, ...from };
    expect(changedSince(draft, from)).toEqual([]);
    expect(
      changedSince({ ...draft, tolerance: '2 %', coefficient: 'known', knownPpm: '15', method: '4-wire' }, from),
    ).toEqual(['tolerance', 'method', 'temperature coefficient']);
  });

  it('is not filled in over what somebody has entered', () => {
    const from = draftOfPart(PLAIN);
    expect(isUntouched({ ...EMPTY_DRAFT, partNumber: 'x', lotNumber: 'L' }, null)).toBe(true);
    expect(isUntouched({ ...EMPTY_DRAFT, tolerance: '5 %' }, null)).toBe(false);
    expect(isUntouched({ ...EMPTY_DRAFT, ...from, partNumber: 'another' }, from as PartDraft)).toBe(true);
    expect(isUntouched({ ...EMPTY_DRAFT, ...from, nominal: '1k' }, from as PartDraft)).toBe(false);
  });

  it('says what is wrong beside the field it is wrong in, without asking for a lot', () => {
    expect(readPart(EMPTY_DRAFT, '').problems).toEqual({
      partNumber: expect.any(String),
      tolerance: expect.any(String),
    });
    const agreed = { ...EMPTY_DRAFT, ...draftOfPart(PLAIN), planBy: 'agreed' as const, sampleSize: '', accept: '3' };
    expect(Object.keys(readPart(agreed, '').problems)).toEqual(['sampleSize']);
    expect(Object.keys(readPart({ ...agreed, sampleSize: '2' }, '').problems)).toEqual(['accept']);
  });
});

describe('a form filled from a marking', () => {
  it('takes what the marking says, its coefficient as a limit, and leaves the rest', () => {
    const before = { ...EMPTY_DRAFT, tolerance: '10 %', coefficient: 'known' as const, knownPpm: '3' };
    expect(fillFromMarking(before, marked({}), 'code 4K7').draft).toEqual({ ...before, nominal: '4.7 kΩ' });
    const { draft, filled } = fillFromMarking(
      before,
      marked({ tolerancePercent: '0.1', ppmPerKelvin: '10' }),
      'bands …',
    );
    expect(draft).toEqual({
      ...before,
      nominal: '4.7 kΩ',
      tolerance: '0.1 %',
      coefficient: 'limit',
      limitPpm: '10',
    });
    expect(filled.from).toMatchObject({ what: 'nominal value, tolerance, coefficient' });
  });

  it.each(['0', '0.47', '4700', '3300000', '0.0033', '99900000000'])(
    '%s Ω is read back by the form exactly',
    (ohms) => {
      const { draft } = fillFromMarking(EMPTY_DRAFT, marked({ ohms }), '');
      expect(readDraft({ ...draft, tolerance: '>= 0' }).window?.nominal).toBe(ohms);
    },
  );
});

describe('a value that is no preferred number', () => {
  const odd = (nominal: string, tolerance: string) => oddValue(readDraft({ ...EMPTY_DRAFT, nominal, tolerance }));
  // IEC 60063: 4.7 is of E24, 4.99 of E96, 4.8 of none up to E96.
  it.each([
    ['4k7', '5 %', false],
    ['4k7', '1 %', false],
    ['4k99', '1 %', false],
    ['4k99', '5 %', true],
    ['4k8', '1 %', true],
    ['4k8', '0.2 ohm', true],
    ['4k7', '4.6k to 4.8k', false],
    ['0', '<= 0.1', false],
    ['', '4.6k to 4.8k', false],
    ['4x7', '1 %', false],
  ])('%s at %s: warned %s', (nominal, tolerance, warned) => {
    expect(odd(nominal, tolerance) !== null).toBe(warned);
  });

  it('is warned of and not refused', () => {
    expect(readPart({ ...EMPTY_DRAFT, partNumber: 'P', nominal: '4k8', tolerance: '1 %' }, '').part).not.toBeNull();
  });
});
