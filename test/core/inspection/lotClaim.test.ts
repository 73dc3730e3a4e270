import { describe, expect, it } from 'vitest';
import { inspectionEvent } from '../../../core/inspection/event.ts';
import { factsOf, lotClaim } from '../../../core/inspection/lotClaim.ts';
import { claimOf, factsOfClaim, timeAt } from './walk.ts';

describe('an integration time', () => {
  it('is one a meter could have, and one the record can keep', () => {
    const claim = (integrationCycles: number) => ({ ...claimOf(), measurement: { integrationCycles } });
    expect(lotClaim.safeParse(claim(1e-70)).success).toBe(false);
    expect(lotClaim.safeParse(claim(0)).success).toBe(false);
    expect(lotClaim.safeParse(claim(0.001)).success).toBe(true);
  });
});

describe('the lot as somebody claims it', () => {
  it('becomes a window in exact decimals and a plan', () => {
    const facts = factsOfClaim({
      part: { number: 'P', nominal: '8R2', tolerance: '5 %' },
      lot: { number: 'L', size: 5000 },
      plan: { aql: '0.65' },
    });
    expect(facts.part).toEqual({
      number: 'P',
      description: '',
      nominal: '8.2',
      tolerance: { kind: 'percent', plus: '5', minus: '5' },
      ratedWatts: null,
    });
    expect(facts.window).toEqual({ nominal: '8.2', lower: '7.79', upper: '8.61' });
    // MIL-STD-105E, Tables I and II-A: 5000 pieces, level II: letter L; AQL 0.65: 200 pieces, Ac 3, Re 4.
    expect(facts.plan).toMatchObject({ codeLetter: 'L', sampleSize: 200, accept: 3, reject: 4 });
    expect(facts.measurement).toEqual({ method: '2-wire', range: 'window', integrationCycles: '1' });
  });

  it('may leave out the nominal value where the limits are given', () => {
    const facts = factsOfClaim({ part: { number: 'P', tolerance: '4.6k to 4.8k' } });
    expect(facts.part.nominal).toBeNull();
    expect(facts.window).toEqual({ nominal: null, lower: '4600', upper: '4800' });
  });

  it.each([
    [{ part: { number: 'P', nominal: '4,7k', tolerance: '1 %' } }, 'resistance-unreadable'],
    [{ part: { number: 'P', nominal: '4k7', tolerance: '1' } }, 'tolerance-unreadable'],
    [{ part: { number: 'P', tolerance: '1 %' } }, 'window-without-nominal'],
    [{ part: { number: 'P', nominal: '0', tolerance: '1 %' } }, 'window-percent-of-zero'],
    [{ part: { number: 'P', nominal: '4k7', tolerance: '4.8k to 4.6k' } }, 'window-upside-down'],
    [{ lot: { number: 'L', size: 0 } }, 'lot-empty'],
    [{ lot: { number: 'L', size: -5 } }, 'lot-empty'],
    [{ lot: { number: 'L', size: 4 } }, 'sample-larger-than-lot'],
    [{ plan: { sampleSize: 5, accept: 5 } }, 'acceptance-number-impossible'],
    [{ plan: { aql: '3' } }, 'aql-unknown'],
    [{ plan: { aql: '15' } }, 'aql-not-percent'],
  ])('%j is refused: %s', (over, code) =>
    expect(() => factsOfClaim(over)).toThrowError(expect.objectContaining({ code })),
  );

  it('gives facts that the record can hold, even at the edges', () => {
    for (const [nominal, tolerance] of [
      ['1e15', '0.00000000000000001 %'],
      ['0.00000000000000000001', '33.3333333333333333 %'],
      ['1e-20', '0.00000000000000001 %'],
      ['1T', '99.99999999999999 %'],
      ['0', '1e-20'],
    ]) {
      const part = {
        number: 'P',
        nominal: nominal ?? '',
        tolerance: tolerance === '1e-20' ? '<= 1e-20' : (tolerance ?? ''),
      };
      const event = { type: 'lot-received', at: timeAt(0), facts: factsOf(lotClaim.parse(claimOf({ part }))) };
      expect(inspectionEvent.safeParse(event).error).toBeUndefined();
    }
  });
});
