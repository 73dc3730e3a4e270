import { analysisOfRun } from '../inspection/analysisOfRun.ts';
import { positionsAreKnown } from '../inspection/positionTaken.ts';
import type { Run } from '../inspection/run.ts';
import { significant, significantPercent } from '../quantity/significant.ts';
import type { Analysis } from '../statistics/analysis.ts';
import type { AndersonDarling } from '../statistics/andersonDarling.ts';
import type { Index } from '../statistics/capability.ts';
import { isRefused, type Refused } from '../statistics/values.ts';
import { DIGITS_OF_PERCENT, numberRow, ohmsRow, probabilityRow, wordsRow } from './figureRow.ts';
import type { Row } from './format.ts';
import { outlierRows } from './outlierRows.ts';
import { trendRows } from './trendRows.ts';

const HALF = 0.5;
const EXPECTED_OUTSIDE = 'outside, expected of a normal lot';
/** Of what is as large as the readings are: six digits would leave too few of their spread. */
const DIGITS_OF_VALUES = 9;

/** Stands where a figure takes the lot to be normal and its shape says otherwise. */
const SEE_SHAPE = 'Not given, since it would take the lot to be normal: see what the shape says.';

/** Spread, capability, shape, outliers and trend of the readings that count and have a value, in their order along the reel. */
export function figureRows(run: Run): Row[] {
  const analysed = analysisOfRun(run);
  const { analysis: found, count } = analysed;
  const { summary } = found;
  const readings: Row = { row: 'figure', item: 'readings with a value', pieces: String(count) };
  if (isRefused(summary)) return [{ ...readings, text: summary.refused }];
  return [
    readings,
    summary.standardDeviation === null
      ? wordsRow('standard deviation', 'The spread of a single piece is not known.')
      : ohmsRow('standard deviation', summary.standardDeviation, 'with n - 1'),
    ...medianRows(found),
    wordsRow('shape', found.shape.kind),
    wordsRow('shape, what it says', found.shape.words),
    ...capabilityRows(found),
    ...outsideRows(found, count),
    ...toleranceRows(found),
    ...normalityRows(found.andersonDarling),
    ...outlierRows(found, () => analysed.valued),
    ...trendRows(found.trend, positionsAreKnown(run)),
  ];
}

function medianRows({ percentiles }: Analysis): Row[] {
  const median = percentiles.find(({ share }) => share === HALF);
  return median ? [{ row: 'figure', item: 'median', ohms: significant(median.value, DIGITS_OF_VALUES) }] : [];
}

/** Pp and Ppk; where the shape forbids them its words stand in their place. */
function capabilityRows({ capability, shape }: Analysis): Row[] {
  const because = (why: string) => [wordsRow('Pp', why), wordsRow('Ppk', why)];
  if (isRefused(capability)) return because(capability.refused);
  if (isRefused(capability.overall)) return because(capability.overall.refused);
  if (!shape.quoteCapability) return because(shape.words);
  const { potential, actual } = capability.overall;
  const words = capability.notes.join(' ');
  return [
    ...(potential === null
      ? [wordsRow('Pp', 'The window has one limit, so there is no Pp.')]
      : indexRows('Pp', potential, words)),
    ...indexRows('Ppk', actual, words),
  ];
}

function indexRows(item: string, { value, lower, upper }: Index, words: string): Row[] {
  return [
    numberRow(item, value, words),
    numberRow(`${item}, 95 % interval from`, lower),
    numberRow(`${item}, 95 % interval to`, upper),
  ];
}

function outsideRows({ normalOutside: normal, countedOutside: counted, shape }: Analysis, readings: number): Row[] {
  const ofNormal = isRefused(normal)
    ? wordsRow(EXPECTED_OUTSIDE, normal.refused)
    : shape.quoteCapability
      ? percentRow(EXPECTED_OUTSIDE, normal.plugIn.total, normal.notes.join(' '))
      : wordsRow(EXPECTED_OUTSIDE, SEE_SHAPE);
  if (isRefused(counted)) return [ofNormal, wordsRow('outside, as counted', counted.refused)];
  const { count, share, lower, upper } = counted.total;
  return [
    ofNormal,
    percentRow('outside, as counted', share, `${count} of ${readings}, open pieces left out; Clopper-Pearson`),
    percentRow('outside, as counted, 95 % interval from', lower),
    percentRow('outside, as counted, 95 % interval to', upper),
  ];
}

function toleranceRows({ toleranceInterval: interval, shape }: Analysis): Row[] {
  if (isRefused(interval)) return [wordsRow('tolerance interval', interval.refused)];
  const { lower, upper } = interval.twoSided;
  return [
    shape.quoteCapability
      ? {
          row: 'figure',
          item: 'tolerance interval',
          text: ['Of a normal lot: 95 % of the pieces, with 95 % confidence.', ...interval.notes].join(' '),
          lower_ohms: significant(lower, DIGITS_OF_VALUES),
          upper_ohms: significant(upper, DIGITS_OF_VALUES),
        }
      : wordsRow('tolerance interval', SEE_SHAPE),
    percentRow(
      'between lowest and highest',
      interval.betweenExtremes.coverage,
      'of the pieces at least, with 95 % confidence, whatever the shape',
    ),
  ];
}

function normalityRows(test: AndersonDarling | Refused): Row[] {
  if (isRefused(test)) return [wordsRow('Anderson-Darling, adjusted A²', test.refused)];
  return [
    numberRow('Anderson-Darling, adjusted A²', test.adjusted, test.notes.join(' ')),
    probabilityRow('Anderson-Darling, p', test.pValue),
  ];
}

function percentRow(item: string, share: number, text = ''): Row {
  return { row: 'figure', item, text, percent: significantPercent(share, DIGITS_OF_PERCENT) };
}
