/** What a term of the trade means, and where its rule comes from. */
export interface Term {
  /** As it stands in a sentence. */
  name: string;
  means: string;
  source: string;
}

/** The terms that a form or a figure uses without having room to say what they mean. */
export const TERMS = {
  aql: {
    name: 'AQL',
    means:
      'Acceptance quality limit: the per cent of nonconforming pieces that is still taken for a satisfactory average. A lot that is just so good is accepted most of the time. It is not what any one lot may contain.',
    source: 'MIL-STD-105E; ISO 2859-1 (acceptance quality limit)',
  },
  'sampling-plan': {
    name: 'Sampling plan',
    means:
      'How many pieces are measured and what decides the lot. It cannot make a lot better; it says how often good lots are refused and bad ones accepted, which is its operating characteristic, shown below.',
    source: 'MIL-STD-105E, 4.9 to 4.11; ISO 3951-1 and MIL-STD-414 for mean and spread',
  },
  'double-sampling': {
    name: 'Double sampling',
    means:
      'A smaller first sample decides where it is clearly good or clearly bad. Between its numbers a second sample is taken, and both together decide. On average fewer pieces are measured.',
    source: 'MIL-STD-105E, Tables III',
  },
  switching: {
    name: 'Normal, tightened, reduced',
    means:
      'Lots that follow each other are inspected more severely after bad ones and less after many good ones; when too many are not accepted on tightened inspection, it is discontinued until the cause is mended. AQL plans protect only together with these rules.',
    source: 'MIL-STD-105E, 4.7 and 4.8; ISO 2859-1, 9',
  },
  'producers-risk': {
    name: 'Producer’s risk',
    means: 'How often a lot of the quality to be accepted is refused all the same, by the luck of the sample.',
    source: 'ISO 3534-2; NIST/SEMATECH e-Handbook 6.2.2',
  },
  'consumers-risk': {
    name: 'Consumer’s risk',
    means: 'How often a lot of the quality to be refused is accepted all the same, by the luck of the sample.',
    source: 'ISO 3534-2; NIST/SEMATECH e-Handbook 6.2.2',
  },
  'class-a': {
    name: 'Class A',
    means:
      'Nonconforming pieces of the highest concern: open, short, or of another value altogether. They have an acceptance number of their own, usually 0. Those that lie just outside the window are class B. Pieces of class A count with all others as well.',
    source: 'ISO 2859-1, 3.1 (classes of nonconformity); which pieces belong to it is our choice',
  },
  'inspection-level': {
    name: 'Inspection level',
    means:
      'How large the sample is for the size of the lot. II is usual; I takes fewer pieces, III more. S-1 to S-4 take very few, where measuring is dear and a larger risk is borne.',
    source: 'MIL-STD-105E, Table I',
  },
  positions: {
    name: 'Positions along the reel',
    means:
      'Where on the reel the pieces of the sample are taken, counted from its beginning. The probabilities of a sampling plan hold for pieces selected at random, without regard to their quality. Positions known also tell how the value moves along the reel.',
    source: 'MIL-STD-105E, 4.8 (drawing of samples)',
  },
  'acceptance-number': {
    name: 'Acceptance number',
    means:
      'The most nonconforming pieces in the sample with which the lot is still accepted. One more, and it is not accepted.',
    source: 'MIL-STD-105E, Table II-A',
  },
  window: {
    name: 'Window',
    means:
      'Lowest and highest value a good piece may have; both limits belong to it. It is worked out from nominal value and tolerance in exact decimals.',
    source: 'IEC 60115-1 (nominal resistance and tolerance); the word is ours',
  },
  method: {
    name: '2-wire and 4-wire',
    means:
      'In 2-wire the leads and contacts are measured together with the piece; what the shorted leads show is subtracted, but contacts differ from piece to piece. In 4-wire the current goes through one pair of leads and the voltage is sensed by another, so they do not count. Below about 100 Ω use 4-wire.',
    source: 'common practice',
  },
  range: {
    name: 'Range',
    means:
      'A fixed range that holds the window keeps all pieces on the same limits of error and takes less time. Where the meter chooses, neighbouring pieces may be read on different ranges.',
    source: 'common practice',
  },
  integration: {
    name: 'Integration time',
    means:
      'How long the meter averages, in cycles of the mains. One cycle or more takes the hum of the mains out; more cycles take noise out and time.',
    source: 'common practice',
  },
  'decision-rule': {
    name: 'Decision rule',
    means:
      'How the uncertainty of a reading counts in its verdict. With simple acceptance it is left out; with guard bands a piece passes only well inside the window; a rule with conditional verdicts names what lies too near to tell.',
    source: 'ILAC-G8:09/2019, 4.2; JCGM 106:2012, 8',
  },
  'guard-band': {
    name: 'Guard band',
    means:
      'The stretch inside a limit in which a piece does not pass without condition. Its width is a share of U: the wider, the fewer bad pieces pass, and the more good ones fail.',
    source: 'JCGM 106:2012, 8.3; ILAC-G8:09/2019, 4.2',
  },
  'process-spread': {
    name: 'Process spread',
    means:
      'Standard deviation of the values that the maker makes. With it the risks are worked out: how often a bad piece passes, and how often a good one fails.',
    source: 'JCGM 106:2012, 9 (risks of consumer and producer)',
  },
  'temperature-coefficient': {
    name: 'Temperature coefficient',
    means:
      'By how many millionths the value changes with each kelvin. Where it is known, readings are brought to the temperature the value is for; where it has only a limit, it adds to the uncertainty.',
    source: 'IEC 60115-1 (temperature coefficient of resistance)',
  },
  'rated-power': {
    name: 'Rated power',
    means:
      'What the part may turn into heat. A test current that uses a good share of it heats the piece, and its value moves while it is read.',
    source: 'IEC 60115-1 (rated dissipation)',
  },
  uncertainty: {
    name: 'U',
    means:
      'Expanded uncertainty: the true value lies within the reading ± U about 95 times in 100. It holds the meter’s limits of error, its resolution, the zero and the leads, temperature and repeatability. k says how many standard uncertainties it is.',
    source: 'JCGM 100:2008, 6.2',
  },
  'colour-bands': {
    name: 'Colour bands',
    means:
      'Figures, a multiplier, a tolerance and sometimes a temperature coefficient, each a colour. The first band is nearest to one end; the last is wider or stands apart. Where that cannot be seen, the bands may be read from either end.',
    source: 'IEC 60062:2016 (colour code)',
  },
  'marking-code': {
    name: 'Codes on parts',
    means:
      'A letter stands in place of the decimal point: 4K7 is 4.7 kΩ, R47 is 0.47 Ω. On small parts two or three figures are followed by the number of zeros: 103 is 10 kΩ, 4992 is 49.9 kΩ. EIA-96 has two digits for the figures and a letter for the multiplier: 01B is 1 kΩ.',
    source: 'IEC 60062 (letter and digit code); EIA-96 by common practice',
  },
  'preferred-number': {
    name: 'Preferred numbers',
    means:
      'The values parts are commonly made in: E24 with 24 to a decade for 5 %, E96 with 96 for 1 %, and so on. A value that is none of them may be right, but is more often misread or mistyped.',
    source: 'IEC 60063:2015 (series E3 to E192)',
  },
  'reference-resistor': {
    name: 'Reference resistor',
    means:
      'A resistor of known value by which the meter is checked before and after the pieces. One near the value of the part shows most; the check of the bench offers the one named here first.',
    source: 'ISO/IEC 17025:2017, 6.4.10 (intermediate checks)',
  },
} as const satisfies Record<string, Term>;

export type TermName = keyof typeof TERMS;
