import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lotCauses } from '../../../core/diagnosis/lotCauses.ts';
import type { LotCause, LotReading, OddLot } from '../../../core/diagnosis/oddLot.ts';
import { parseOhms } from '../../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../../core/window/parseTolerance.ts';
import { windowOf } from '../../../core/window/window.ts';
import { trueOhms } from '../../../instruments/bench/lot.ts';
import type { ReelName } from '../../../instruments/bench/reels.ts';
import { readScenario, scenarioForPart } from '../../../instruments/bench/scenario.ts';

/** Normal quantiles, evenly spread and in an order without a trend: a lot whose every figure is the same each time. */
const quantiles = (count: number): number[] =>
  Array.from({ length: count }, (_, index) => {
    const u = (((index * 37) % count) + 0.5) / count;
    // Winitzki's approximation of the inverse error function, from memory: good to a few thousandths.
    const x = 2 * u - 1;
    const l = Math.log(1 - x * x);
    const a = 2 / (Math.PI * 0.147) + l / 2;
    return Math.SQRT2 * Math.sign(x) * Math.sqrt(Math.sqrt(a * a - l / 0.147) - a);
  });

function lot(nominal: string, tolerance: string, ohms: readonly (number | null)[], more: Partial<OddLot> = {}): OddLot {
  const parsed = parseTolerance(tolerance);
  return {
    window: windowOf(parseOhms(nominal), parsed),
    tolerance: parsed,
    method: '2-wire',
    expandedOhms: Number(parseOhms(nominal)) * 2e-4,
    resolutionOhms: null,
    readings: ohms.map(
      (one, index): LotReading => ({
        ohms: one,
        piece: index + 1,
        position: index + 1,
        atMilliseconds: 2000 * index,
        counts: true,
      }),
    ),
    references: [],
    ...more,
  };
}

const causesOf = (odd: OddLot): LotCause[] => lotCauses(odd).map(({ cause }) => cause);
/** 60 pieces about a mean. */
const about = (mean: number, deviation: number, count = 60) => quantiles(count).map((z) => mean + deviation * z);
const reference = (afterReading: number, measuredOhms: number, trueOhms = 4700) => ({
  afterReading,
  atMilliseconds: 2000 * afterReading,
  trueOhms,
  measuredOhms,
  uncertaintyOhms: trueOhms * 1e-4,
  failed: false,
  name: 'RS-1',
});

describe('what may be wrong with a lot', () => {
  it('is nothing of a lot in order', () => {
    expect(causesOf(lot('4k7', '1 %', about(4705, 10)))).toEqual([]);
    expect(
      causesOf(lot('4k7', '1 %', about(4705, 10), { references: [reference(0, 4700.1), reference(60, 4700.3)] })),
    ).toEqual([]);
  });

  it.each([
    ['100', '+10 -0 %', about(105, 1)],
    ['100', '>= 90', about(200, 1)],
    ['100', '<= 105', about(60, 1)],
  ])('is nothing of a lot of %s with %s that lies within its window', (nominal, tolerance, ohms) => {
    expect(causesOf(lot(nominal, tolerance, ohms))).toEqual([]);
  });

  it('is no drift where two references differ, and no contact where one piece was mistaken for another', () => {
    const references = [reference(0, 4700.1), { ...reference(60, 4730), name: 'RS-2' }];
    expect(causesOf(lot('4k7', '1 %', about(4705, 10), { references }))).toEqual([]);
    const odd = lot('4k7', '1 %', about(4705, 10));
    const [first, second, third] = odd.readings as [LotReading, LotReading, LotReading];
    const again = (one: LotReading, ohms: number) => [{ ...one, ohms, counts: false }, one];
    const readings = [...again(first, 4700), ...again(second, 9100), ...again(third, 4699), ...odd.readings.slice(3)];
    expect(causesOf({ ...odd, expandedOhms: 20, readings })).toEqual([]);
  });

  it('is nothing that fewer than 5 readings could say', () => {
    expect(causesOf(lot('4k7', '1 %', [470, 470, 470, 470]))).toEqual([]);
  });

  it.each<[LotCause, OddLot]>([
    [
      'broken lead',
      lot(
        '4k7',
        '1 %',
        about(4700, 10).map((ohms, index) => (index >= 40 ? null : ohms)),
      ),
    ],
    ['shorts throughout', lot('4k7', '1 %', about(0.2, 0.02))],
    [
      'source connected',
      lot(
        '4k7',
        '1 %',
        about(4700, 10).map((ohms, index) => (index % 5 === 0 ? -320 - index : ohms)),
      ),
    ],
    [
      'wrong range or function',
      lot(
        '4k7',
        '1 %',
        about(4700, 20).map((ohms) => 50 * Math.round(ohms / 50)),
        { resolutionOhms: 50 },
      ),
    ],
    // A contact adds from some tenths of an ohm to some ohms, and another amount with each touch (common practice).
    [
      'unstable contact',
      lot(
        '10',
        '1 %',
        about(10, 0.02).map((ohms, index) => (index % 4 === 1 ? ohms + 0.3 + ((index * 7) % 11) / 4 : ohms)),
      ),
    ],
    // A person is of the order of a megohm (common practice).
    [
      'fingers on the tips',
      lot(
        '10M',
        '5 %',
        about(1e7, 1e5).map((ohms, index) => {
          const path = 6e5 * (1 + ((index * 13) % 7));
          return (ohms * path) / (ohms + path);
        }),
      ),
    ],
    [
      'meter drift',
      lot(
        '4k7',
        '1 %',
        about(4700, 10).map((ohms, index) => ohms + index / 2),
        { references: [reference(0, 4700), reference(30, 4715), reference(60, 4730)] },
      ),
    ],
    ['decade slip', lot('4k7', '1 %', about(47_010, 100))],
    // Red red black black brown is 220 Ω ±1 %; from its other end brown black black red red is 10 kΩ ±2 % (IEC 60062).
    ['bands from the other end', lot('220', '1 %', about(10_020, 30))],
    // 3.3 kΩ is in E12 (IEC 60063).
    ['another preferred value', lot('4k7', '1 %', about(3302, 8))],
    ['off its value', lot('4k7', '1 %', about(4740, 8))],
    [
      'spliced reel',
      lot(
        '4k7',
        '1 %',
        about(4690, 5).map((ohms, index) => (index >= 37 ? ohms + 25 : ohms)),
      ),
    ],
    [
      'trend along the reel',
      lot(
        '4k7',
        '1 %',
        about(4680, 5).map((ohms, index) => ohms + index / 2),
      ),
    ],
    [
      'sorted lot',
      lot(
        '4k7',
        '5 %',
        about(4700, 20, 61).map((ohms) => ohms + (ohms < 4700 ? -70 : 70)),
      ),
    ],
    [
      'mixed reel',
      lot(
        '4k7',
        '1 %',
        about(4690, 5).map((ohms, index) => (index % 3 === 1 ? ohms + 45 : ohms)),
      ),
    ],
    [
      'strays of another value',
      lot(
        '4k7',
        '1 %',
        about(4700, 8).map((ohms, index) => (index === 11 ? 5100 : ohms)),
      ),
    ],
    [
      'open pieces',
      lot(
        '4k7',
        '1 %',
        about(4700, 8).map((ohms, index) => (index === 11 || index === 30 ? null : ohms)),
      ),
    ],
  ])('is first taken for: %s', (cause, odd) => {
    const found = lotCauses(odd);
    expect(found[0]?.cause).toBe(cause);
    expect(found[0]?.evidence).toMatch(/\d/);
  });

  it('is an added resistance where the reference has it too, and cannot be told from a lot that is off without', () => {
    const readings = about(10.35, 0.01);
    const references = [reference(0, 10.36, 10), reference(60, 10.34, 10)];
    expect(causesOf(lot('10', '1 %', readings, { references, expandedOhms: 0.02 }))).toEqual([
      'added lead or contact resistance',
    ]);
    const found = lotCauses(lot('10', '1 %', readings));
    expect(
      found
        .slice(0, 2)
        .map(({ cause }) => cause)
        .sort(),
    ).toEqual(['added lead or contact resistance', 'off its value']);
  });

  it('is a path beside each piece by its value: two resistors side by side (product over sum)', () => {
    // 12 Ω beside 24 Ω is 8 Ω (zanotowane.pl, a worked example of a parallel connection).
    const found = lotCauses(lot('24', '5 %', about(8, 0.1)));
    expect(found.find(({ cause }) => cause === 'a path beside each piece')?.evidence).toMatch(
      /^A path of 12 Ω beside each piece of 24 Ω would read 8 Ω, the middle of the lot/,
    );
  });

  it('is warming where pieces move one way while they are held', () => {
    const held = about(1e6, 3000, 20).flatMap((ohms, index) =>
      [0, 1, 2, 3].map(
        (turn): LotReading => ({
          ohms: ohms + 600 * turn + ((index * 7 + turn * 3) % 5) * 20,
          piece: index + 1,
          position: index + 1,
          atMilliseconds: 8000 * index + 1000 * turn,
          counts: turn === 3,
        }),
      ),
    );
    const odd = { ...lot('1M', '5 %', []), expandedOhms: 400, readings: held };
    expect(causesOf(odd)[0]).toBe('warming');
    expect(lotCauses(odd)[0]?.evidence).toMatch(/^Of 20 pieces that were read several times 20 rose/);
  });

  it('says no cause of more than 1 in 100 lots of the simulated bench that are in order', () => {
    const claimed = claims('usual', 2000, { poor: false });
    console.info(`claims on 2000 good lots of the simulated bench: ${claimed}`);
    expect(claimed).toBeLessThanOrEqual(20);
  });

  it('has only numbers in its words, whatever the readings', () => {
    const one = fc.oneof(
      fc.constant(null),
      fc.double({ min: -1e6, max: 1e9, noNaN: true }),
      fc.constantFrom(0, 4700, 4701, 47_000),
    );
    fc.assert(
      fc.property(fc.array(one, { maxLength: 60 }), fc.constantFrom(null, 0, 0.5, 100), (ohms, expandedOhms) => {
        for (const { evidence, next, weight } of lotCauses(lot('4k7', '1 %', ohms, { expandedOhms }))) {
          expect(evidence + next).not.toMatch(/NaN|Infinity|undefined|null/);
          expect(weight).toBeGreaterThan(0);
        }
      }),
    );
  });
});

/** Of how many lots of a reel something is said. */
function claims(reel: ReelName, lots: number, { poor }: { poor: boolean }): number {
  let claimed = 0;
  const tolerance = parseTolerance('1 %');
  for (let seed = 1; seed <= lots; seed++) {
    const input = scenarioForPart({ seed, nominalOhms: 4700, lowerOhms: 4653, upperOhms: 4747, reel });
    const scenario = readScenario({ ...input, lot: { ...input.lot, shareWrong: 0, shareOpen: 0 } });
    if (!poor && scenario.lot.spreadPercent > 0.3) continue;
    const ohms = Array.from({ length: [32, 80, 200][seed % 3] as number }, (_, index) => {
      const value = trueOhms(scenario, index + 1);
      return value === null ? null : Number(value.toFixed(2));
    });
    const odd = { ...lot('4k7', '1 %', ohms), tolerance, expandedOhms: 0.5, resolutionOhms: 0.01 };
    if (lotCauses(odd).length > 0) claimed++;
  }
  return claimed;
}
