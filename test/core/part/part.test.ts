import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { factsOf, lotClaim, withSeed } from '../../../core/inspection/lotClaim.ts';
import { briefly, claimOfPart, meaningOf, type PartInput, part } from '../../../core/part/part.ts';
import { anyPart } from './anyPart.ts';

const plain: PartInput = { number: 'TF-4K7-1', nominal: '4k7', tolerance: '1 %' };
const codeOf = (over: object) => {
  try {
    meaningOf(part.parse({ ...plain, ...over }));
    return 'makes sense';
  } catch (thrown) {
    return (thrown as { code?: string }).code ?? String(thrown);
  }
};

describe('a part', () => {
  it('claims of a lot what the lot itself would claim, and nothing is lost (property)', () => {
    fc.assert(
      fc.property(anyPart, (known) => {
        const claim = claimOfPart(known, { number: 'L-1', supplier: 'S', reel: 'R-9', size: 5000 }, 'Ines');
        // The door takes the claim as it is: every field is one of a claim, and none is changed.
        expect(lotClaim.parse(claim)).toEqual(claim);
        expect(factsOf(withSeed(claim, 7))).toMatchObject({ part: { number: known.number }, checks: known.checks });
        const {
          number: _,
          description: __,
          nominal,
          tolerance,
          ratedWatts,
          reference,
          supplier,
          positions,
          ...shared
        } = known;
        const { inspector, lot, part: itself, ...asClaimed } = claim;
        expect(asClaimed).toEqual({ ...shared, positions: { kind: positions } });
        expect([itself.nominal, itself.tolerance, itself.ratedWatts]).toEqual([nominal, tolerance, ratedWatts]);
        expect([typeof reference, typeof supplier, inspector, lot.number]).toEqual(['string', 'string', 'Ines', 'L-1']);
      }),
      { numRuns: 300 },
    );
  });

  it('has a field for everything that a lot claims beside the lot itself', () => {
    // A field that a lot's claim gains must be kept with the part, or choosing the part would not fill it.
    const { inspector, lot, part: itself, ...rest } = lotClaim.shape;
    expect(Object.keys(part.shape)).toEqual(
      expect.arrayContaining([...Object.keys(rest), ...Object.keys(itself.shape)]),
    );
    expect([inspector, lot]).not.toContain(undefined);
  });

  it('comes back whole from its brief form (property)', () => {
    fc.assert(
      fc.property(anyPart, (known) => {
        expect(part.parse(briefly(known))).toEqual(known);
      }),
    );
    expect(briefly(part.parse(plain))).toEqual(plain);
  });

  it('is one part however its letters are composed', () => {
    expect(part.parse({ ...plain, number: 'e\u0301' }).number).toBe(part.parse({ ...plain, number: '\u00e9' }).number);
    // A zero-width blank, as it comes with what is copied from a page.
    expect(part.parse({ ...plain, number: ' TF\u200b-1\ufeff ' }).number).toBe('TF-1');
  });

  it.each([
    ['no nominal value for a tolerance', { nominal: '' }, 'window-without-nominal'],
    ['a nominal value nobody can read', { nominal: '4,7k' }, 'resistance-unreadable'],
    ['a bare number as tolerance', { tolerance: '5' }, 'tolerance-unreadable'],
    ['an AQL that is none', { plan: { aql: '3' } }, 'aql-unknown'],
    ['an AQL of nonconformities', { plan: { aql: '15' } }, 'aql-not-percent'],
    ['more accepted than measured', { plan: { sampleSize: 3, accept: 3 } }, 'acceptance-number-impossible'],
    ['no piece to measure', { plan: { sampleSize: 0, accept: 0 } }, 'acceptance-number-impossible'],
    ['a spread that is none', { decision: { processSpread: 'wide' } }, 'spread-unreadable'],
    ['a usual part', {}, 'makes sense'],
    ['a sample as large as a lot may be', { plan: { sampleSize: 9_000_000, accept: 0 } }, 'makes sense'],
  ])('with %s: %o is %s', (_what, over, code) => {
    expect(codeOf(over)).toBe(code);
  });

  it('refuses a study as its plan, an unknown field and a number that is blank', () => {
    const study = {
      study: { design: 'single', pieces: 1, operators: ['I'], repeats: 2, sessions: 2, runs: 1, seed: 1 },
    };
    for (const over of [{ plan: study }, { toleranz: '1 %' }, { number: '  ' }]) {
      expect(part.safeParse({ ...plain, ...over }).success).toBe(false);
    }
  });
});
