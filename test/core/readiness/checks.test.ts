import { describe, expect, it } from 'vitest';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import type { Bench } from '../../../core/readiness/bench.ts';
import { CHECKS, type CheckName, type Found, type ReferenceFacts, type Shown } from '../../../core/readiness/check.ts';
import { judgeCheck } from '../../../core/readiness/judgeCheck.ts';
import {
  confirmedRun,
  goodCheck,
  METER,
  METER_DATA,
  OVERLOAD,
  referenceOf,
  SIMULATED,
  timeAt,
} from '../inspection/walk.ts';

const NOW = timeAt(0);
const FOUR_WIRE: Partial<LotClaimInput> = { measurement: { method: '4-wire' } };
const FOUR_WIRE_METER: MeterFacts = { ...METER, setting: { ...METER.setting, function: '4-wire' } };

/** A bench of 4.7 kΩ ±1 %, 2-wire, range 10 kΩ, with leads of 0.2 Ω. */
function bench(over: Partial<Bench> = {}, claim: Partial<LotClaimInput> = {}): Bench {
  const run = confirmedRun(claim) as Run & { meter: MeterFacts };
  return { ...run, zeroOhms: '0.2', shortedOhms: '0.2', ...over };
}

/** The same in 4-wire, where nothing is subtracted. */
function fourWire(over: Partial<Bench> = {}, claim: Partial<LotClaimInput> = {}): Bench {
  return bench({ meter: FOUR_WIRE_METER, zeroOhms: '0', shortedOhms: '0.001', ...over }, { ...FOUR_WIRE, ...claim });
}

const as =
  (what: Found['what']) =>
  (...raws: string[]): Shown[] =>
    raws.map((raw) => ({ what, raw }));
const two = as('2-wire');
const four = as('4-wire');
/** 2-wire and 4-wire at the same place, each on the range the meter chooses. */
const senses = (twoWire: string, fourWire: string) => [
  ...as('2-wire-automatic')(twoWire),
  ...as('4-wire-automatic')(fourWire),
];
const volts = as('dc-volts');

function judged(of: Bench, check: CheckName, shown: Shown[], reference: ReferenceFacts | null = null) {
  return judgeCheck(of, check, shown, reference, NOW);
}

/** A check as it passes, whatever the bench. */
const good = (of: Bench, check: CheckName) => {
  const { shown, reference } = goodCheck(of as Run, check);
  return { shown: [...shown], reference };
};

const identity = as('identity')(METER.identity.text);
const overdue = { ...METER, data: { ...METER_DATA, calibration: { ...METER_DATA.calibration, due: '2026-03-01' } } };
const setting = (over: Partial<MeterFacts['setting']>) =>
  bench({ meter: { ...METER, setting: { ...METER.setting, ...over } } });
const answering = { by: 'R. Adeyemi', at: NOW, reason: 'compared with the other meter this morning' };

/** Each fault makes the check fail that is there for it, with these words. */
const FAULTS: [fault: string, CheckName, Bench, Shown[], words: RegExp][] = [
  ['another meter', 'meter', bench(), as('identity')('Another,Meter,1,1'), /"Another,Meter,1,1" answers instead/],
  ['an error in the queue', 'meter', bench(), [...identity, ...as('trouble')('-113 was in its error queue')], /^-113/],
  ['the wrong function', 'meter', setting({ function: '4-wire' }), identity, /measures 4-wire.*measured 2-wire/],
  ['a range too small', 'meter', setting({ rangeOhms: '1000' }), identity, /1 kΩ does not hold.*4\.747 kΩ/],
  ['a range nobody asked for', 'meter', setting({ range: 'auto' }), identity, /cannot be told its range/],
  [
    'too short an integration',
    'meter',
    setting({ integrationCycles: '0.02' }),
    identity,
    /0\.02 mains cycles instead of 1/,
  ],
  ['a calibration past due', 'meter', bench({ meter: overdue }), identity, /was due on 2026-03-01/],
  ['an unknown calibration', 'meter', bench({ meter: { ...METER, data: null } }), identity, /no calibration.*Enter/],

  ['something across the leads', 'open-leads', bench(), two(OVERLOAD, '+1.2E+06'), /1\.2 MΩ with open leads/],
  ['a voltage on the leads', 'open-leads', bench(), two('-9.9E+37'), /overload below zero/],

  ['a broken lead', 'shorted-leads', bench(), two('0.2', OVERLOAD, '0.2'), /overload with shorted leads.*broken/],
  ['poor leads', 'shorted-leads', bench(), two('1.2', '1.21', '1.2'), /1\.21 Ω with shorted leads, more than 1 Ω/],
  // Range 10 kΩ: 5e-5 of it is 0.5 Ω, more than 0.1 Ω.
  ['unsteady leads', 'shorted-leads', bench(), two('0.1', '0.7', '0.2'), /100 mΩ to 700 mΩ .*not steady within 500 mΩ/],
  ['readings below zero', 'shorted-leads', bench(), two('-0.6', '-0.6', '-0.6'), /-600 mΩ.*below zero/],
  [
    'free sense leads',
    'shorted-leads',
    fourWire(),
    [...four('0.2', '0.2', '0.2'), ...senses('0.2100', '0.2000')],
    /sense leads are not conn/,
  ],
  [
    'a broken lead in 4-wire',
    'shorted-leads',
    fourWire(),
    [...four('0', '0', '0'), ...senses(OVERLOAD, '0.0001')],
    /overload in 2-wire/,
  ],

  ['a live part', 'no-voltage', bench(), volts('0.0001', '-5.2'), /^-5\.2 V DC between the probes\. Stop\./],
  ['more volts than the meter reads', 'no-voltage', bench(), volts(OVERLOAD), /more DC volts/],

  // Zero 0.2, value 4747, uncertainty 0.05, limit 4747.9 × 0.0001 + 0.1 = 0.57479: allowed ±0.62479, by hand.
  ['a meter that drifted', 'reference', bench(), two('4747.9'), /reads 4747\.7 Ω, 0\.7 Ω off, more than ±0\.62479 Ω/],
  ['an open contact at the reference', 'reference', bench(), two(OVERLOAD), /overload with the reference/],
  [
    'no accuracy for this range',
    'reference',
    setting({ rangeOhms: '12000' }),
    two('4747.2'),
    /nothing for the 2-wire range 12000 Ω.*Enter/,
  ],
  [
    'no accuracy at all',
    'reference',
    bench({ meter: { ...METER, data: null } }),
    two('4747.2'),
    /nobody has entered it/,
  ],
  [
    'a room outside the band of a meter without coefficient',
    'reference',
    bench({
      ambientCelsius: '40',
      meter: {
        ...METER,
        data: { ...METER_DATA, ranges: METER_DATA.ranges.map((range) => ({ ...range, perKelvin: null })) },
      },
    }),
    two('4747.2'),
    /40 °C is outside/,
  ],

  [
    'leads too long for 2-wire',
    'method',
    bench({ shortedOhms: '5' }),
    [],
    /leads of 5 Ω are 11 % of the tolerance of ±47 Ω\. .*4-wire/,
  ],
  [
    'a meter less exact than the pieces',
    'method',
    bench({
      meter: {
        ...METER,
        data: { ...METER_DATA, ranges: METER_DATA.ranges.map((range) => ({ ...range, percentOfReading: '1' })) },
      },
    }),
    [],
    // 1 % of 4747 and 0.001 % of 10 kΩ are 47.57, of a tolerance of 47: 101 %, by hand.
    /limit of error of ±47\.57 Ω is 101 % of the tolerance of ±47 Ω/,
  ],
  ['a cold room', 'ambient', bench(), as('temperature-typed')('17.9'), /17\.9 °C is outside 18 °C to 28 °C/],
  ['a hot room', 'ambient', bench(), as('temperature')('+2.81E+01'), /28\.1 °C is outside/],
  [
    'a temperature the meter cannot read',
    'ambient',
    bench(),
    as('temperature')(OVERLOAD),
    /does not read the temperature/,
  ],
];

describe('each check', () => {
  it.each(CHECKS)('%s passes at a bench where all is well, in 2-wire and in 4-wire', (check) => {
    for (const of of [bench(), fourWire()]) {
      const { shown, reference } = good(of, check);
      const given = check === 'reference' ? (of.measurement.method === '2-wire' ? two('4747.2') : four('4747')) : shown;
      expect(judged(of, check, given, reference)).toMatchObject({ outcome: 'passed' });
    }
  });

  it.each(FAULTS)('finds %s: %s', (_, check, of, shown, words) => {
    const reference = check === 'reference' ? referenceOf('4747') : null;
    const { outcome, why, zeroOhms } = judged(of, check, shown, reference);
    expect(outcome).toBe('failed');
    expect(why).toMatch(words);
    // Every failure says what to do, and none gives a zero.
    expect(why).toMatch(/\. \p{Lu}/u);
    expect(zeroOhms).toBeNull();
  });

  it.each(FAULTS.filter(([, check]) => check !== 'method'))('fails for %s and the others do not', (_, check, of) => {
    // What one check was shown is not shown to another; what is wrong with the bench itself is for one check to find.
    for (const other of CHECKS.filter((name) => name !== check && !sharedFault(of, name))) {
      const { shown, reference } = good(of, other);
      const given = other === 'reference' ? (of.measurement.method === '2-wire' ? two('4747.2') : four('4747')) : shown;
      expect(judged(of, other, given, reference).outcome, other).toBe('passed');
    }
  });

  it('never says that anything is safe', () => {
    for (const [, check, of, shown] of FAULTS) {
      const { why } = judged(of, check, shown, check === 'reference' ? referenceOf('4747') : null);
      expect(why).not.toMatch(/\bsafe/i);
    }
    for (const check of CHECKS) {
      const { shown, reference } = good(bench({ zeroOhms: '0' }), check);
      expect(judged(bench({ zeroOhms: '0' }), check, shown, reference).why).not.toMatch(/\bsafe/i);
    }
  });
});

/** A meter without data or with a setting of another range fails at both the meter and the reference: both need them. */
function sharedFault({ meter, ambientCelsius }: Bench, check: CheckName): boolean {
  const noAccuracy = meter.data === null || meter.setting.rangeOhms !== '10000' || ambientCelsius === '40';
  if (check === 'reference') return noAccuracy || meter.setting.function !== '2-wire';
  return check === 'meter' && meter.data === null;
}

describe('the meter', () => {
  it('passes past due or unknown where somebody overridden, and the words say who and why', () => {
    for (const meter of [overdue, { ...METER, data: null }]) {
      const { outcome, why } = judged(bench({ meter, overridden: answering }), 'meter', identity);
      expect(outcome).toBe('passed');
      expect(why).toContain('overridden by R. Adeyemi: compared with the other meter this morning');
    }
  });

  it('of practice needs no calibration', () => {
    const meter = { ...SIMULATED, data: null };
    expect(judged(bench({ meter }), 'meter', as('identity')(meter.identity.text)).outcome).toBe('passed');
  });

  it('may choose its range where the lot says so, or where the window has no upper limit', () => {
    const auto = { ...METER, setting: { ...METER.setting, range: 'auto' as const } };
    const open = { part: { number: 'P', tolerance: '>= 1M' } };
    expect(judged(bench({ meter: auto }, { measurement: { range: 'auto' } }), 'meter', identity).outcome).toBe(
      'passed',
    );
    expect(judged(bench({ meter: auto }, open), 'meter', identity).outcome).toBe('passed');
  });
});

describe('shorted leads', () => {
  it.each([
    [two('0.21', '0.20', '0.22'), '0.21'],
    // Of four the mean of the middle two, by hand.
    [two('0.20', '0.23', '0.21', '0.22'), '0.215'],
    [two('-0.02', '-0.01', '0.00'), '-0.01'],
  ])('%j in 2-wire give their median as the zero: %s', (shown, zero) => {
    expect(judged(bench(), 'shorted-leads', shown)).toMatchObject({ outcome: 'passed', zeroOhms: zero });
  });

  it('give no zero in 4-wire, and show the sense leads by 2-wire at the same place', () => {
    const { outcome, why, zeroOhms } = judged(fourWire(), 'shorted-leads', [
      ...four('0.001', '0.002', '0.001'),
      ...senses('0.2100', '0.0003'),
    ]);
    expect({ outcome, zeroOhms }).toEqual({ outcome: 'passed', zeroOhms: null });
    expect(why).toContain('2-wire shows 210 mΩ at the same place, 4-wire 0.3 mΩ: the sense leads are connected');
  });

  it('of very good leads in 4-wire cannot tell, say so, and pass only if free leads could not matter', () => {
    // Four last digits of 0.01 Ω are 0.04 Ω.
    const shown = [...four('0.00', '0.04', '0.02'), ...senses('0.03', '0.00')];
    const wide = judged(fourWire(), 'shorted-leads', shown);
    expect(wide).toMatchObject({ outcome: 'passed' });
    expect(wide.why).toMatch(
      /too little to tell the sense leads by; hanging free they would add no more than 0\.1 % of the tolerance/,
    );
    // 0.47 Ω ±1 %: the tolerance is 0.0047 Ω.
    const narrow = fourWire({}, { part: { number: 'P', nominal: 'R47', tolerance: '1 %' } });
    expect(judged(narrow, 'shorted-leads', shown)).toMatchObject({
      outcome: 'failed',
      why: expect.stringContaining('would be 851'),
    });
  });

  it('cannot tell without 2-wire, and say so', () => {
    const meter = { ...FOUR_WIRE_METER, measures: ['4-wire' as const] };
    expect(judged(fourWire({ meter }), 'shorted-leads', four('0', '0', '0')).why).toContain(
      'cannot be told without 2-wire',
    );
  });

  it('may show more on a high range: 1e-4 of it near zero, 5e-5 of it steady', () => {
    const high = setting({ rangeOhms: '100000000' });
    expect(judged(high, 'shorted-leads', two('9000', '5000', '9000')).outcome).toBe('passed');
    expect(judged(high, 'shorted-leads', two('10001', '9000', '9000')).outcome).toBe('failed');
  });
});

describe('no voltage', () => {
  it.each([
    ['0.010', 'passed'],
    ['-0.010', 'passed'],
    ['0.0101', 'failed'],
    ['-0.0101', 'failed'],
  ])('of %s V %s', (raw, outcome) => expect(judged(bench(), 'no-voltage', volts(raw)).outcome).toBe(outcome));

  it('is taken by word, and called that, only where the meter cannot measure it', () => {
    const meter = { ...METER, measures: ['2-wire' as const] };
    const word = as('word')('nothing is live');
    expect(judged(bench({ meter }), 'no-voltage', word)).toMatchObject({
      outcome: 'by-word',
      why: expect.stringContaining('not measured'),
    });
    expect(() => judged(bench(), 'no-voltage', word)).toThrowError(
      expect.objectContaining({ code: 'check-must-be-measured' }),
    );
  });
});

describe('the reference', () => {
  it.each([
    // 4747 + 0.2 of leads; allowed ±(0.05 + 0.1 + 0.0001 × reading), by hand.
    ['4747.2', 'passed'],
    ['4747.82478', 'passed'],
    ['4747.8249', 'failed'],
    ['4746.57535', 'passed'],
    ['4746.5753', 'failed'],
  ])('read as %s with a zero of 0.2 %s', (raw, outcome) => {
    expect(judged(bench(), 'reference', two(raw), referenceOf('4747')).outcome).toBe(outcome);
  });

  it('fails with one bad reading among good ones', () => {
    expect(judged(bench(), 'reference', two('4747.2', '4750', '4747.2'), referenceOf('4747')).outcome).toBe('failed');
  });

  it('fails past its due day, and not on it', () => {
    const due = (day: string) => judged(bench(), 'reference', two('4747.2'), { ...referenceOf('4747'), due: day });
    expect(due('2026-03-01')).toMatchObject({
      outcome: 'failed',
      why: expect.stringContaining('was due on 2026-03-01'),
    });
    expect(due('2026-03-02').outcome).toBe('passed');
  });

  it('must be near what is measured, since a small one says little of the range', () => {
    expect(judged(bench(), 'reference', two('474.7'), referenceOf('474.5')).why).toContain('less than a tenth');
    expect(judged(bench(), 'reference', two('12100.2'), referenceOf('12100')).why).toContain('is above the range');
  });

  it('must be known better, for its size, than the pieces are allowed to be off', () => {
    // 4.7 kΩ ±1 %: 47 Ω of 4747 Ω.
    const known = (uncertaintyOhms: string) => ({ ...referenceOf('4747'), uncertaintyOhms });
    expect(judged(bench(), 'reference', two('4747.2'), known('47')).outcome).toBe('passed');
    expect(judged(bench(), 'reference', two('4747.2'), known('47.1'))).toMatchObject({
      outcome: 'failed',
      why: expect.stringContaining('a larger share'),
    });
  });

  it('is read on the smallest range that holds it where the meter chooses', () => {
    const auto = setting({ range: 'auto' });
    expect(judged(auto, 'reference', two('47471'), referenceOf('47471')).why).toContain('more than ten times');
    // On the same range, the lowest there is, a much larger one shows as much.
    const small = { ...auto, window: { nominal: null, lower: null, upper: '5' } };
    expect(judged(small, 'reference', two('90.2'), referenceOf('90')).why).not.toContain('more than ten times');
    expect(judged(auto, 'reference', two('900.2'), referenceOf('900'))).toMatchObject({
      outcome: 'passed',
      // 900.2 × 0.0001 + 1000 × 0.00001 = 0.10002, by hand.
      why: expect.stringContaining('±0.10002 Ω of the meter'),
    });
  });

  it('may be a little further off in a warm room, by the temperature coefficient', () => {
    // 5 K outside: 5 × (4748 × 0.000006 + 10000 × 0.000001) = 0.19244 more, by hand.
    const shown = two('4748.0');
    expect(judged(bench(), 'reference', shown, referenceOf('4747')).outcome).toBe('failed');
    expect(judged(bench({ ambientCelsius: '33' }), 'reference', shown, referenceOf('4747')).outcome).toBe('passed');
  });

  it('may be done without, with a reason, and nothing else may', () => {
    const waiver = as('waiver')('the 4.7 kΩ reference is away for calibration');
    expect(judged(bench(), 'reference', waiver)).toMatchObject({
      outcome: 'waived',
      why: 'no reference was measured: the 4.7 kΩ reference is away for calibration',
    });
    for (const check of CHECKS.filter((name) => name !== 'reference')) {
      expect(() => judged(bench(), check, waiver)).toThrowError(
        expect.objectContaining({ code: 'check-not-waivable' }),
      );
    }
    expect(() => judged(bench(), 'reference', as('waiver')(''))).toThrowError(
      expect.objectContaining({ code: 'reason-missing' }),
    );
  });
});

/** On the range for small values. */
const onRange = (meter: MeterFacts): MeterFacts => ({ ...meter, setting: { ...meter.setting, rangeOhms: '100' } });

describe('the method', () => {
  const part = (nominal: string, tolerance: string) => ({ part: { number: 'P', nominal, tolerance } });

  it.each([
    // The rule of ten, common practice: what adds to readings is at most a tenth of the tolerance.
    [
      '2-wire, 0.21 Ω of leads at 47 Ω ±1 %',
      bench({ shortedOhms: '0.21' }, part('47', '1 %')),
      /leads of 210 mΩ are 45 % of the tolerance of ±470 mΩ.*4-wire/,
    ],
    [
      '2-wire at 0.47 Ω',
      bench({ shortedOhms: '0' }, part('R47', '5 %')),
      /below the 1 Ω from which 2-wire can be used.*4-wire/,
    ],
    [
      '4-wire, 0.001 Ω left at 0.1 Ω ±5 %',
      fourWire({ shortedOhms: '0.001' }, part('R1', '5 %')),
      /1 mΩ, is 20 % of the tolerance of ±5 mΩ.*very low/,
    ],
    ['150 MΩ', bench({}, part('150M', '10 %')), /above the 100 MΩ.*high resistance/],
    [
      'more than the largest range',
      bench(
        { meter: { ...METER, data: { ...METER_DATA, ranges: METER_DATA.ranges.slice(0, 3) } } },
        part('47k', '1 %'),
      ),
      /47\.47 kΩ is above 10 kΩ, the largest 2-wire range.*high/,
    ],
    ['at least 150 MΩ', bench({}, { part: { number: 'P', tolerance: '>= 150M' } }), /high resistance/],
    [
      'no tolerance to compare with',
      bench({ shortedOhms: '0.1' }, { part: { number: 'P', tolerance: '>= 0' } }),
      /4-wire/,
    ],
  ])('%s is refused in figures', (_, of, words) => {
    const { outcome, why } = judged(of, 'method', []);
    expect(outcome).toBe('failed');
    expect(why).toMatch(words);
  });

  it.each([
    [
      '2-wire, leads of just a tenth',
      bench({ shortedOhms: '0.047' }, part('47', '1 %')),
      /47 mΩ, which are subtracted, are 10 % of/,
    ],
    ['2-wire from 1 Ω', bench({ shortedOhms: '0.001', meter: onRange(METER) }, part('1', '10 %')), /^2-wire/],
    [
      '4-wire below 1 Ω',
      fourWire({ shortedOhms: '0.0001', meter: onRange(FOUR_WIRE_METER) }, part('R1', '5 %')),
      /^4-wire/,
    ],
    ['100 MΩ', bench({}, { part: { number: 'P', tolerance: '80M to 100M' } }), /^2-wire/],
  ])('%s is taken', (_, of, words) => {
    expect(judged(of, 'method', [])).toMatchObject({ outcome: 'passed', why: expect.stringMatching(words) });
  });
});

describe('too little or too much to judge', () => {
  it.each<[CheckName, Bench, Shown[], string]>([
    ['meter', bench(), [], 'check-incomplete'],
    ['meter', bench(), [...identity, ...identity], 'check-incomplete'],
    ['open-leads', bench(), four(OVERLOAD), 'check-incomplete'],
    ['shorted-leads', bench(), two('0', '0'), 'check-incomplete'],
    ['shorted-leads', fourWire(), four('0', '0', '0'), 'check-incomplete'],
    ['shorted-leads', fourWire(), [...four('0', '0', '0'), ...two('0', '0')], 'check-incomplete'],
    ['no-voltage', bench(), [], 'check-incomplete'],
    ['reference', bench(), two('4747'), 'reference-missing'],
    ['ambient', bench(), [], 'check-incomplete'],
    ['ambient', bench(), as('temperature-typed')('23', '24'), 'check-incomplete'],
    ['ambient', bench(), as('temperature-typed')('warm'), 'input-invalid'],
    ['ambient', bench(), as('word')('warm'), 'check-must-be-measured'],
    ['open-leads', bench(), two('about 5'), 'answer-unreadable'],
    ['open-leads', bench(), two('9.91E37'), 'answer-not-a-number'],
    ['open-leads', bench(), as('word')('open'), 'check-must-be-measured'],
  ])('%s, %#: %s', (check, of, shown, code) => {
    expect(() => judged(of, check, shown)).toThrowError(expect.objectContaining({ code }));
  });
});
