import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  correctionOhms,
  type TemperaturePart,
  tcrFrom,
  temperaturePart,
} from '../../../core/uncertainty/temperature.ts';
import type { TemperatureFacts } from '../../../core/uncertainty/temperatureFacts.ts';

function known(ppmPerKelvin: string, uncertaintyPpmPerKelvin = '0', thermometerKelvins = '0'): TemperatureFacts {
  return {
    referenceCelsius: '20',
    coefficient: { kind: 'known', ppmPerKelvin, uncertaintyPpmPerKelvin },
    thermometerKelvins,
  };
}

function limit(ppmPerKelvin: string, thermometerKelvins = '0'): TemperatureFacts {
  return { referenceCelsius: '20', coefficient: { kind: 'limit', ppmPerKelvin }, thermometerKelvins };
}

const UNKNOWN: TemperatureFacts = { referenceCelsius: '25', coefficient: { kind: 'unknown' }, thermometerKelvins: '1' };

describe('temperature coefficient', () => {
  it('100 ppm/K from 20 to 100 °C is a change of 0.8 % (a question in a data sheet, the result computed)', () => {
    expect(tcrFrom('10000', '20', '10080', '100')).toBe('100');
    // Read at 100 °C, the same part is 10 kΩ at 20 °C.
    expect(correctionOhms('10080.0', '100', known('100'), '0.1')).toBe('-80');
  });

  it('copper, 1.39 at 100 °C of 1 at 0 °C by a coefficient of 0.0039 per kelvin (from memory)', () => {
    expect(tcrFrom('1', '0', '1.39', '100')).toBe('3900');
  });

  it('is negative for a part that falls with temperature, in whichever order it is measured', () => {
    expect(tcrFrom('1000', '25', '999.5', '35')).toBe('-50');
    expect(tcrFrom('999.5', '35', '1000', '25')).toBe('-50.025013');
  });

  it('needs two temperatures and a value', () => {
    expect(() => tcrFrom('1000', '20', '1001', '20.0')).toThrow('coefficient-needs-change');
    expect(() => tcrFrom('0', '20', '1001', '30')).toThrow('coefficient-needs-change');
  });
});

describe('correction to the reference temperature', () => {
  it('is exact, to one decimal more than the last digit, a half to the even neighbour', () => {
    // 1000.5 / (1 + 0.0005) - 1000.5 = -0.5 exactly.
    expect(correctionOhms('1000.5', '30', known('50'), '0.1')).toBe('-0.5');
    // 4702.13 / 1.00006 - 4702.13 = -0.28211087...
    expect(correctionOhms('4702.13', '23', known('20'), '0.01')).toBe('-0.282');
    expect(correctionOhms('4702.13', '17', known('20'), '0.01')).toBe('0.282');
    // 4702.13 / 0.99994 - 4702.13 = 0.28214473...; the last digit being 10 Ω.
    expect(correctionOhms('4700', '17', known('20'), '10')).toBe('0.3');
    expect(correctionOhms('4702.13', '17', known('20'), '0')).toBe('0.282');
  });

  it('adds nothing at the reference temperature, and nothing where the coefficient is a limit or unknown', () => {
    expect(correctionOhms('4702.13', '20', known('20'), '0.01')).toBe('0');
    expect(correctionOhms('4702.13', '30', limit('100'), '0.01')).toBe('0');
    expect(correctionOhms('4702.13', '30', UNKNOWN, '0.01')).toBe('0');
  });

  it('undoes what temperature did, within half of its last decimal', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10_000_000 }),
        fc.integer({ min: -10_000, max: 10_000 }),
        fc.integer({ min: 150, max: 350 }),
        (milliohms, ppm, tenths) => {
          const celsius = tenths / 10;
          const atReference = new Big(milliohms).times('0.001');
          const warm = atReference.times(
            new Big(ppm)
              .times('0.000001')
              .times(celsius - 20)
              .plus(1),
          );
          const added = correctionOhms(warm.toFixed(), String(celsius), known(String(ppm)), '0.001');
          expect(Number(warm.plus(added).minus(atReference).abs())).toBeLessThanOrEqual(0.00005 + 1e-12);
        },
      ),
    );
  });

  it('refuses a coefficient that leaves nothing of the part', () => {
    expect(() => correctionOhms('1000', '30', known('-100000'), '0.1')).toThrow('temperature-impossible');
    expect(temperaturePart('1000', '30', known('-100000'))).toEqual({ unknown: expect.stringContaining('no part') });
  });
});

describe('what temperature contributes to uncertainty', () => {
  const squares = (part: ReturnType<typeof temperaturePart>) =>
    (part as TemperaturePart).inputs.reduce(
      (sum, { sensitivity, standardUncertainty }) => sum + (sensitivity * standardUncertainty) ** 2,
      0,
    );

  /** Mean square of a function of two rectangular variables, by the midpoint rule over a grid. */
  function meanSquare(of: (a: number, b: number) => number): number {
    const steps = 400;
    let sum = 0;
    for (let i = 0; i < steps; i++) {
      for (let j = 0; j < steps; j++) sum += of((2 * i + 1) / steps - 1, (2 * j + 1) / steps - 1) ** 2;
    }
    return sum / steps ** 2;
  }

  it.each(['20', '23', '28'])('a limit: the mean square of R·α·ΔT itself, at %s °C', (celsius) => {
    const kelvins = Number(celsius) - 20;
    const direct = meanSquare((a, t) => 4700 * 100e-6 * a * (kelvins + 1.5 * t));
    expect(squares(temperaturePart('4700', celsius, limit('100', '1.5'))) / direct).toBeCloseTo(1, 4);
  });

  it.each(['20', '28'])('a known coefficient: the mean square of what the correction leaves, at %s °C', (celsius) => {
    const kelvins = Number(celsius) - 20;
    const direct = meanSquare((a, t) => {
      const alpha = (50 + 10 * a) * 1e-6;
      return 4700 / (1 + alpha * (kelvins + t)) - 4700 / (1 + 50e-6 * kelvins);
    });
    expect(squares(temperaturePart('4700', celsius, known('50', '10', '1'))) / direct).toBeCloseTo(1, 3);
  });

  it('a known coefficient brings every ohm to the reference temperature', () => {
    expect((temperaturePart('4700', '30', known('1000')) as TemperaturePart).toReference).toBeCloseTo(1 / 1.01, 12);
    expect((temperaturePart('4700', '30', limit('1000')) as TemperaturePart).toReference).toBe(1);
  });

  it('unknown: nothing, and says so', () => {
    const part = temperaturePart('4700', null, UNKNOWN) as TemperaturePart;
    expect(part.inputs).toEqual([]);
    expect(part.notes.join()).toContain('25 °C');
  });

  it('without an ambient temperature there is no figure where one is needed', () => {
    expect(temperaturePart('4700', null, known('50'))).toEqual({ unknown: 'the ambient temperature is not known' });
    expect(temperaturePart('4700', null, limit('50'))).toEqual({ unknown: 'the ambient temperature is not known' });
  });
});
