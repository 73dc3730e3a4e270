import { STOPPING } from '../inspection/event.ts';
import { LEVELS } from '../sampling/codeLetter.ts';
import { AQLS, STANDARDS } from '../sampling/singlePlan.ts';
import { VARIABLES_AQLS, VARIABLES_LEVELS } from '../sampling/variablesPlan.ts';
import { REFERENCE_CELSIUS } from '../uncertainty/temperatureFacts.ts';
import { MOST_GUARD_FACTOR, RULES } from '../window/decisionRule.ts';
import type { Part } from './part.ts';

/** A column of a file of parts. */
export interface PartColumn {
  name: string;
  /** Where its value stands in a part. */
  path: readonly string[];
  /** Free text, whose cells must not become formulas; a number with a decimal sign; a whole number; one of some words. */
  holds: 'text' | 'number' | 'whole number' | 'word';
  /** What is expected there, in words: `a number of watts above 0, like 0.25`. */
  expects: string;
}

const ppm = 'a number of ppm for each kelvin';
const oneOf = (words: readonly string[]) => `one of ${words.join(', ')}`;
const PERCENT_AQLS = AQLS.filter((aql) => Number(aql) <= 10);

/** Says that classes are not told apart. */
export const ALIKE = 'alike';

function percentOf(name: string, path: readonly string[]): PartColumn {
  return { name, path, holds: 'number', expects: 'per cent above 0, like 0.65' };
}

function pointsOf(beginning: string, path: readonly string[]): PartColumn[] {
  return [
    percentOf(`${beginning}accepted_percent`, [...path, 'acceptedPercent']),
    percentOf(`${beginning}producer_risk_percent`, [...path, 'producerRiskPercent']),
    percentOf(`${beginning}refused_percent`, [...path, 'refusedPercent']),
    percentOf(`${beginning}consumer_risk_percent`, [...path, 'consumerRiskPercent']),
  ];
}

/** The columns of a file of parts, in the order they are written. Those a file does not have are as in the receiving form. */
export const PART_COLUMNS: readonly PartColumn[] = [
  { name: 'part', path: ['number'], holds: 'text', expects: 'a part number' },
  { name: 'description', path: ['description'], holds: 'text', expects: 'one line of text' },
  { name: 'supplier', path: ['supplier'], holds: 'text', expects: 'one line of text' },
  { name: 'nominal', path: ['nominal'], holds: 'text', expects: 'a resistance like 4k7, 4700 or 0.47' },
  { name: 'tolerance', path: ['tolerance'], holds: 'text', expects: 'a tolerance like 1 %, or limits' },
  { name: 'rated_watts', path: ['ratedWatts'], holds: 'number', expects: 'a number of watts above 0, like 0.25' },
  {
    name: 'tcr_ppm_per_k',
    path: ['temperature', 'coefficient', 'knownPpmPerKelvin'],
    holds: 'number',
    expects: `${ppm}, like 15 or -20`,
  },
  {
    name: 'tcr_within_ppm_per_k',
    path: ['temperature', 'coefficient', 'uncertaintyPpmPerKelvin'],
    holds: 'number',
    expects: `${ppm} that is not negative, like 5`,
  },
  {
    name: 'tcr_limit_ppm_per_k',
    path: ['temperature', 'coefficient', 'limitPpmPerKelvin'],
    holds: 'number',
    expects: `${ppm} that is not negative, like 100`,
  },
  {
    name: 'values_at_celsius',
    path: ['temperature', 'referenceCelsius'],
    holds: 'word',
    expects: oneOf(REFERENCE_CELSIUS),
  },
  {
    name: 'thermometer_kelvins',
    path: ['temperature', 'thermometerKelvins'],
    holds: 'number',
    expects: 'a number of kelvins that is not negative, like 1',
  },
  { name: 'aql', path: ['plan', 'aql'], holds: 'word', expects: oneOf(PERCENT_AQLS) },
  { name: 'level', path: ['plan', 'level'], holds: 'word', expects: oneOf(LEVELS) },
  { name: 'sample_size', path: ['plan', 'sampleSize'], holds: 'whole number', expects: 'a whole number of pieces' },
  { name: 'accept', path: ['plan', 'accept'], holds: 'whole number', expects: 'a whole number of pieces' },
  { name: 'standard', path: ['plan', 'standard'], holds: 'word', expects: oneOf(STANDARDS) },
  { name: 'sampling', path: ['plan', 'sampling'], holds: 'word', expects: oneOf(['single', 'double']) },
  percentOf('zero_acceptance_refused_percent', ['plan', 'zeroAcceptance', 'refusedPercent']),
  percentOf('zero_acceptance_risk_percent', ['plan', 'zeroAcceptance', 'riskPercent']),
  ...pointsOf('two_point_', ['plan', 'twoPoint']),
  { name: 'two_point_of', path: ['plan', 'twoPoint', 'of'], holds: 'word', expects: oneOf(['process', 'lot']) },
  { name: 'variables_aql', path: ['plan', 'variables', 'aql'], holds: 'word', expects: oneOf(VARIABLES_AQLS) },
  { name: 'variables_level', path: ['plan', 'variables', 'level'], holds: 'word', expects: oneOf(VARIABLES_LEVELS) },
  {
    name: 'variables_severity',
    path: ['plan', 'variables', 'severity'],
    holds: 'word',
    expects: oneOf(['normal', 'tightened']),
  },
  ...pointsOf('variables_', ['plan', 'variables']),
  {
    name: 'variables_known_spread',
    path: ['plan', 'variables', 'knownSpread'],
    holds: 'text',
    expects: 'like 12 ohm or 0.3 %',
  },
  {
    name: 'every_piece_accept',
    path: ['plan', 'everyPiece', 'accept'],
    holds: 'whole number',
    expects: 'a whole number of pieces',
  },
  {
    name: 'class_a_accept',
    path: ['classA', 'accept'],
    holds: 'whole number',
    expects: `a whole number of pieces, or ${ALIKE} where open pieces, shorts and wrong values count as any other`,
  },
  percentOf('class_a_beyond_percent', ['classA', 'beyondPercent']),
  { name: 'stopping', path: ['stopping'], holds: 'word', expects: oneOf(STOPPING) },
  { name: 'positions', path: ['positions'], holds: 'word', expects: oneOf(['random', 'spread', 'as-taken']) },
  { name: 'method', path: ['measurement', 'method'], holds: 'word', expects: oneOf(['2-wire', '4-wire']) },
  { name: 'range', path: ['measurement', 'range'], holds: 'word', expects: oneOf(['window', 'auto']) },
  {
    name: 'integration_cycles',
    path: ['measurement', 'integrationCycles'],
    holds: 'number',
    expects: 'a number of mains cycles from 0.001 to 1000',
  },
  {
    name: 'every_readings',
    path: ['checks', 'everyReadings'],
    holds: 'whole number',
    expects: 'a whole number from 1 to 1000',
  },
  {
    name: 'every_minutes',
    path: ['checks', 'everyMinutes'],
    holds: 'whole number',
    expects: 'a whole number from 1 to 1440',
  },
  {
    name: 'ambient_lowest',
    path: ['checks', 'ambientCelsius', 'lowest'],
    holds: 'number',
    expects: 'degrees Celsius like 18, below ambient_highest, and both given',
  },
  {
    name: 'ambient_highest',
    path: ['checks', 'ambientCelsius', 'highest'],
    holds: 'number',
    expects: 'degrees Celsius like 28, above ambient_lowest, and both given',
  },
  { name: 'decision_rule', path: ['decision', 'rule'], holds: 'word', expects: oneOf(RULES) },
  {
    name: 'guard_factor',
    path: ['decision', 'guardFactor'],
    holds: 'number',
    expects: `a number from 0 to ${MOST_GUARD_FACTOR}`,
  },
  { name: 'process_spread', path: ['decision', 'processSpread'], holds: 'text', expects: 'like 12 ohm or 0.3 %' },
  { name: 'reference', path: ['reference'], holds: 'text', expects: 'the name of a reference resistor' },
];

/** The text of a part in a column; empty where it says nothing there. */
export function textIn(column: PartColumn, known: Part): string {
  if (known.classA === null && column.path[0] === 'classA') return column.name === 'class_a_accept' ? ALIKE : '';
  let value: unknown = known;
  for (const field of column.path) value = (value as Record<string, unknown> | undefined)?.[field];
  return value === undefined ? '' : String(value);
}

/** The column a field of a part is given in; null for a group of fields. */
export function columnAt(path: readonly PropertyKey[]): PartColumn | null {
  const sought = path.join('.');
  return PART_COLUMNS.find((column) => column.path.join('.') === sought) ?? null;
}
