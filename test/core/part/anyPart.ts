import fc from 'fast-check';
import { type Part, part } from '../../../core/part/part.ts';

/** Text as somebody may type it into a field, formulas and quotes included; never of blanks only. */
export const typedText = fc
  .array(
    fc.oneof(
      fc.constantFrom(...'=+-@\'";,| ＝＋－＠−Ωµ', "''", '"="', '; =1', '%', 'é'),
      fc.string({ unit: 'grapheme', minLength: 1, maxLength: 3 }),
    ),
    { minLength: 1, maxLength: 8 },
  )
  .map((bits) => bits.join('').trim())
  .filter((text) => part.shape.number.safeParse(text).success);

const orEmpty = (text: fc.Arbitrary<string>) => fc.oneof(fc.constant(''), text);
const decimals = (most: number) =>
  fc.integer({ min: 1, max: most * 100 }).map((hundredths) => String(hundredths / 100));

/** A window that makes sense, as an engineer writes it. */
const window = fc.oneof(
  fc.record({
    nominal: fc.constantFrom('4k7', '4.7k', 'R47', '3M3', '220', '4700 ohm', '1e3'),
    tolerance: fc.constantFrom('1 %', '±0.5 %', '+5 -10 %', '0.1 ohm', '+0.2 -0.1 ohm'),
  }),
  fc.record({
    nominal: fc.constant(''),
    tolerance: fc.constantFrom('4.6k to 4.8k', '>= 1M', '<= 0.1'),
  }),
);

const POINTS = {
  acceptedPercent: '1',
  producerRiskPercent: '5',
  refusedPercent: '6',
  consumerRiskPercent: '10',
};

const plan = fc.oneof(
  fc.record({ aql: fc.constantFrom('0.65', '1.0', '10'), level: fc.constantFrom('I', 'II', 'S-4') }),
  fc.record({
    aql: fc.constantFrom('0.65', '4.0'),
    standard: fc.constantFrom('MIL-STD-105E'),
    sampling: fc.constantFrom('single', 'double'),
  }),
  fc.record({ sampleSize: fc.integer({ min: 5, max: 500 }), accept: fc.integer({ min: 0, max: 4 }) }),
  fc.constantFrom(
    { zeroAcceptance: { refusedPercent: '1.5', riskPercent: '5' } },
    { twoPoint: { ...POINTS, of: 'lot' } },
    { variables: { aql: '1.0', level: 'III', severity: 'tightened' } },
    { variables: { ...POINTS, knownSpread: '12 ohm' } },
    { everyPiece: { accept: 3 } },
  ),
);

const coefficient = fc.oneof(
  fc.record({
    knownPpmPerKelvin: fc.integer({ min: -500, max: 500 }).map(String),
    uncertaintyPpmPerKelvin: decimals(50),
  }),
  fc.record({ limitPpmPerKelvin: decimals(300) }),
  fc.constant(undefined),
);

/** Any part that the station would keep. */
export const anyPart: fc.Arbitrary<Part> = fc
  .record({
    number: typedText,
    description: orEmpty(typedText),
    supplier: orEmpty(typedText),
    reference: orEmpty(typedText),
    window,
    plan,
    coefficient,
    classA: fc.constantFrom(null, { accept: 0, beyondPercent: '5' }, { accept: 2, beyondPercent: '12.5' }),
    stopping: fc.constantFrom('when-refused', 'when-certain', 'never'),
    ratedWatts: fc.option(decimals(5), { nil: undefined }),
    positions: fc.constantFrom('random', 'spread', 'as-taken'),
    measurement: fc.record({
      method: fc.constantFrom('2-wire', '4-wire'),
      range: fc.constantFrom('window', 'auto'),
      integrationCycles: fc.constantFrom(0.02, 1, 10, 100),
    }),
    checks: fc.record({
      everyReadings: fc.integer({ min: 1, max: 1000 }),
      everyMinutes: fc.integer({ min: 1, max: 1440 }),
      ambientCelsius: fc.constantFrom({ lowest: '18', highest: '28' }, { lowest: '-5.5', highest: '22.25' }),
    }),
    decision: fc.record({
      rule: fc.constantFrom('simple-acceptance', 'guard-band', 'non-binary'),
      guardFactor: decimals(10),
      processSpread: fc.constantFrom('', '12 ohm', '4k7'),
    }),
    referenceCelsius: fc.constantFrom('20', '25'),
    thermometerKelvins: decimals(3),
  })
  .map(
    ({ window: itsWindow, coefficient: itsCoefficient, ratedWatts, referenceCelsius, thermometerKelvins, ...rest }) =>
      part.parse({
        ...rest,
        ...itsWindow,
        ...(ratedWatts !== undefined && { ratedWatts }),
        temperature: {
          referenceCelsius,
          thermometerKelvins,
          ...(itsCoefficient !== undefined && { coefficient: itsCoefficient }),
        },
      }),
  );

/** Several parts, no two of one number. */
export const anyParts = fc.uniqueArray(anyPart, { selector: ({ number }) => number, minLength: 1, maxLength: 6 });
