import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  notToldApart,
  type OddReading,
  type ReadingCause,
  readingCauses,
} from '../../../core/diagnosis/readingCauses.ts';
import { parseOhms } from '../../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../../core/window/parseTolerance.ts';
import { windowOf } from '../../../core/window/window.ts';

function odd(nominal: string, tolerance: string, ohms: string | null, more: Partial<OddReading> = {}): OddReading {
  const parsed = parseTolerance(tolerance);
  return {
    window: windowOf(parseOhms(nominal), parsed),
    tolerance: parsed,
    ohms: ohms === null ? null : parseOhms(ohms).toFixed(),
    expandedOhms: null,
    method: '2-wire',
    ...more,
  };
}

const causesOf = (reading: OddReading): ReadingCause[] => readingCauses(reading).map(({ cause }) => cause);

describe('what an odd reading may come from', () => {
  it.each<[string, string, string | null, ReadingCause]>([
    ['4k7', '1 %', null, 'open'],
    ['4k7', '1 %', '0.12', 'short'],
    ['1M', '1 %', '300', 'short'],
    ['4k7', '1 %', '470.2', 'decade slip'],
    ['4k7', '5 %', '46k', 'decade slip'],
    ['10', '1 %', '100k', 'decade slip'],
    // Red red black black brown is 220 Ω ±1 %; from its other end brown black black red red is 10 kΩ ±2 %.
    ['220', '1 %', '10.05k', 'bands from the other end'],
    // Brown black black brown brown is 1 kΩ ±1 %; from its other end 110 Ω ±1 %.
    ['1k', '1 %', '110.4', 'bands from the other end'],
    ['4k7', '1 %', '3k31', 'another preferred value'],
    ['4k7', '1 %', '8.23k', 'another preferred value'],
    ['10M', '5 %', '1.31M', 'fingers on the tips'],
    ['4k7', '1 %', '4.42k', 'a path beside it'],
    ['4k7', '1 %', '4.64k', 'a little out of tolerance'],
    ['1M', '5 %', '1.08M', 'a little out of tolerance'],
    ['10', '1 %', '10.6', 'lead or contact resistance'],
    ['0.1', '1 %', '0.21', 'lead or contact resistance'],
  ])('%s ±%s that reads %s is first taken for: %s', (nominal, tolerance, ohms, cause) => {
    expect(causesOf(odd(nominal, tolerance, ohms))[0]).toBe(cause);
  });

  it('has only numbers where a window ends at the nominal value, and says nothing where it has one limit', () => {
    expect(JSON.stringify(readingCauses(odd('100', '+10 -0 %', '100', { expandedOhms: '1' })))).not.toMatch(
      /NaN|Infinity|−/,
    );
    expect(causesOf(odd('100', '<= 105', '110'))).toEqual([]);
  });

  it('has its evidence in figures and the next thing to do', () => {
    expect(readingCauses(odd('3k3', '1 %', '2.4k'))).toMatchObject([
      {
        cause: 'another preferred value',
        evidence: expect.stringMatching(
          /^2\.4 kΩ lies within ±1 % of 2\.4 kΩ, a preferred value \(E24\)\. By chance 21 %/,
        ),
      },
      {
        cause: 'a path beside it',
        evidence: 'A path of 8.8 kΩ beside 3.3 kΩ reads 2.4 kΩ.',
        next: expect.stringContaining('lift one end'),
      },
    ]);
  });

  it('cannot be told apart where two causes explain it about as well', () => {
    const wide = readingCauses(odd('47k', '5 %', '33.4k'));
    // At 5 % one value in two lies near to one of E12, so that says little.
    expect(wide.map(({ cause }) => cause)).toEqual(['another preferred value', 'a path beside it']);
    expect(notToldApart(readingCauses(odd('4k7', '1 %', '470')))).toBe(1);
    expect(notToldApart([])).toBe(0);
  });

  it('is nothing known, where nothing is', () => {
    expect(causesOf(odd('4k7', '0.1 %', '5.432k'))).toEqual([]);
    expect(
      readingCauses({ ...odd('4k7', '1 %', '9k'), window: { nominal: null, lower: '4000', upper: '5000' } }),
    ).toEqual([]);
  });

  it('takes the uncertainty into account', () => {
    expect(causesOf(odd('4k7', '0.1 %', '3.31k'))).not.toContain('another preferred value');
    expect(causesOf(odd('4k7', '0.1 %', '3.31k', { expandedOhms: '8' }))).toContain('another preferred value');
  });

  it('is named where it was made, whatever the value (property)', () => {
    const nominal = fc
      .tuple(fc.constantFrom('10', '12', '15', '22', '33', '47', '68'), fc.integer({ min: 1, max: 4 }))
      .map(([figures, power]) => new Big(figures).times(`1e${power}`));
    const share = fc.double({ min: -0.9, max: 0.9, noNaN: true });
    fc.assert(
      fc.property(nominal, fc.constantFrom(-3, -2, -1, 1, 2, 3), share, (value, decades, off) => {
        const ohms = value.times(`1e${decades}`).times((1 + off / 100).toFixed(8));
        const found = causesOf(odd(value.toFixed(), '1 %', ohms.toFixed(8)));
        expect(found[0] === 'short' || found[0] === 'decade slip').toBe(true);
        if (ohms.gt(value.times('0.0011')) && ohms.gt(1)) expect(found[0]).toBe('decade slip');
      }),
    );
    fc.assert(
      fc.property(nominal, fc.double({ min: 0.05, max: 0.9, noNaN: true }), (value, part) => {
        const beside = value.times(part.toFixed(6)).div(1 - part);
        const ohms = value.times(beside).div(value.plus(beside)).toFixed(6);
        const found = readingCauses(odd(value.toFixed(), '1 %', ohms));
        expect(
          found.some(
            ({ cause }) => cause === 'a path beside it' || cause === 'fingers on the tips' || cause === 'short',
          ),
        ).toBe(true);
      }),
    );
  });

  it('is found or not, whatever was read, in whole sentences (property)', () => {
    const positive = fc
      .double({ min: 1e-6, max: 1e12, noNaN: true })
      .map((ohms) => new Big(ohms.toPrecision(7)).toFixed());
    fc.assert(
      fc.property(
        positive,
        fc.constantFrom('0.1', '1', '5', '20', '100'),
        fc.option(positive),
        fc.boolean(),
        (nominal, percent, ohms, minus) => {
          const tolerance = { kind: 'percent' as const, plus: percent, minus: percent };
          const window = windowOf(new Big(nominal), tolerance);
          const found = readingCauses({
            window,
            tolerance,
            ohms: ohms === null ? null : minus ? `-${ohms}` : ohms,
            expandedOhms: null,
            method: '4-wire',
          });
          for (const [index, { evidence, next, weight }] of found.entries()) {
            expect(`${evidence} ${next}`).toMatch(/^(-\d|[A-Z\d]).*\.$/);
            expect(`${evidence} ${next}`).not.toMatch(/NaN|Infinity|undefined/);
            expect(weight).toBeLessThanOrEqual(found[index - 1]?.weight ?? 1);
          }
        },
      ),
    );
  });
});
