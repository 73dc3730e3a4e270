import { significant, significantPercent } from '../../core/quantity/significant.ts';
import type { Analysis } from '../../core/statistics/analysis.ts';
import type { Capability, Index, Indices } from '../../core/statistics/capability.ts';
import type { CountedShare } from '../../core/statistics/fractionOutside.ts';
import { isRefused, type Refused } from '../../core/statistics/values.ts';
import type { Window } from '../../core/window/window.ts';
import { tableLines } from './table.ts';

/** Of what is as large as the readings are: six digits would leave too few of their spread. */
const DIGITS_OF_VALUES = 9;
const DIGITS = 6;
const DIGITS_OF_PERCENT = 3;
const SMALLEST_P = 0.000001;

/** Stands where a figure takes the lot to be normal and its shape says otherwise. */
const SEE_SHAPE = 'not given, since it takes the lot to be normal: see the shape';

/** A figure, or the words in its place, and where it comes from. */
type Line = [name: string, value: string, source: string];

/** Every figure of readings in plain text, each with its source; where one cannot be given, why. */
export function figureLines(analysis: Analysis, { lower, upper }: Window, without: number): string[] {
  const { shape, trend } = analysis;
  const window = lower === null && upper === null ? 'not given' : `${lower ?? 'open'} to ${upper ?? 'open'} Ω`;
  return [
    `Window: ${window}`,
    ...(without === 0 ? [] : [`Without a value, and left out: ${without}`]),
    `Shape: ${shape.words}`,
    `Along the reel: ${trend.words}`,
    '',
    ...tableLines(
      [
        ...summaryLines(analysis),
        ...shape.evidence.map(
          ({ name, value, critical }): Line => [
            `shape: ${name}`,
            `${figure(value)}${critical === null ? '' : ` (critical ${figure(critical)})`}`,
            'see the shape',
          ],
        ),
        ...capabilityLines(analysis),
        ...outsideLines(analysis),
        ...toleranceLines(analysis),
        ...normalityLines(analysis),
        ...outlierLines(analysis),
        ...trendLines(analysis),
        ...binLines(analysis),
      ],
      'left',
    ),
    ...notesOf(analysis).map((note) => `- ${note}`),
  ];
}

function summaryLines({ summary, percentiles }: Analysis): Line[] {
  if (isRefused(summary)) return [['readings', summary.refused, '']];
  const { n, mean, standardDeviation, lowest, highest, range } = summary;
  return [
    ['readings', String(n), ''],
    ['mean', ohms(mean), ''],
    [
      'standard deviation s',
      standardDeviation === null ? 'not known of a single piece' : small(standardDeviation),
      'with n - 1',
    ],
    ['lowest', ohms(lowest), ''],
    ['highest', ohms(highest), ''],
    ['range', small(range), ''],
    ...percentiles.map(
      ({ share, value }): Line => [
        `${percent(share)} of the readings below`,
        ohms(value),
        'Hyndman and Fan 1996, type 7',
      ],
    ),
  ];
}

function capabilityLines({ capability, shape }: Analysis): Line[] {
  const names = 'Cp, Cpk, Pp, Ppk';
  if (isRefused(capability)) return [[names, capability.refused, '']];
  if (!shape.quoteCapability) return [[names, 'not given: see the shape', '']];
  const { within, overall, aboutNominal } = capability;
  return [
    ...indexLines(within, ['Cp', 'Cpk'], 'mean moving range / 1.128; ISO 22514-2', capability),
    ...indexLines(overall, ['Pp', 'Ppk'], 's of all readings; ISO 22514-2', capability),
    ...(aboutNominal === null ? [] : [['Cpm', figure(aboutNominal), 'about the nominal value'] satisfies Line]),
  ];
}

function indexLines(
  found: Indices | Refused,
  names: [string, string],
  source: string,
  { confidence }: Capability,
): Line[] {
  if (isRefused(found)) return [[names.join(', '), found.refused, '']];
  const shown = ({ value, lower, upper }: Index) =>
    `${figure(value)} (${percent(confidence)} interval ${figure(lower)} to ${figure(upper)})`;
  return [
    [
      names[0],
      found.potential === null ? 'not given: the window has one limit' : shown(found.potential),
      `${source}; interval by chi-square`,
    ],
    [names[1], shown(found.actual), `${source}; interval by Bissell 1990`],
  ];
}

function outsideLines({ normalOutside: normal, countedOutside: counted, shape }: Analysis): Line[] {
  const lines: Line[] = [];
  const name = 'outside, of a normal lot';
  if (isRefused(normal)) lines.push([name, normal.refused, '']);
  else if (!shape.quoteCapability) lines.push([name, SEE_SHAPE, '']);
  else {
    lines.push([name, percent(normal.plugIn.total), 'mean and s as if known; e-Handbook 6.1.6']);
    lines.push([
      'outside, next piece of a normal lot',
      percent(normal.nextPiece.total),
      "Student's t; Hahn and Meeker 1991",
    ]);
  }
  if (isRefused(counted)) return [...lines, ['outside, counted', counted.refused, '']];
  const { confidence } = counted;
  const line = (where: string, share: CountedShare | null): Line[] =>
    share === null
      ? []
      : [
          [
            `${where}, counted`,
            `${share.count}, ${percent(share.share)} (${percent(confidence)} interval ${percent(share.lower)} to ${percent(share.upper)})`,
            'Clopper-Pearson; no distribution assumed',
          ],
        ];
  return [
    ...lines,
    ...line('below the window', counted.below),
    ...line('above the window', counted.above),
    ...line('outside', counted.total),
  ];
}

function toleranceLines({ toleranceInterval: found, shape }: Analysis): Line[] {
  if (isRefused(found)) return [['tolerance interval', found.refused, '']];
  const { coverage, confidence, twoSided, oneSided, betweenExtremes } = found;
  const of = `${percent(coverage)} of the pieces with ${percent(confidence)} confidence`;
  const normal: Line[] = shape.quoteCapability
    ? [
        [
          'tolerance interval',
          `${ohms(twoSided.lower)} to ${ohms(twoSided.upper)} (k ${figure(twoSided.factor)})`,
          `${of}, of a normal lot; Howe 1969`,
        ],
        [
          'tolerance limits, each alone',
          `above ${ohms(oneSided.lower)}; below ${ohms(oneSided.upper)} (k ${figure(oneSided.factor)})`,
          `${of}, of a normal lot; ISO 16269-6`,
        ],
      ]
    : [['tolerance interval', SEE_SHAPE, '']];
  return [
    ...normal,
    [
      'between lowest and highest',
      `at least ${percent(betweenExtremes.coverage)}`,
      `of the pieces with ${percent(confidence)} confidence, whatever the shape; Wilks 1941, ISO 16269-6`,
    ],
  ];
}

function normalityLines({ andersonDarling: found }: Analysis): Line[] {
  if (isRefused(found)) return [['Anderson-Darling', found.refused, '']];
  return [
    [
      'Anderson-Darling A²',
      `${figure(found.aSquared)}, adjusted ${figure(found.adjusted)}`,
      'D’Agostino and Stephens 1986; mean and s from the readings',
    ],
    ['Anderson-Darling p', probability(found.pValue), 'of the adjusted A²; D’Agostino and Stephens 1986, table 4.9'],
  ];
}

function outlierLines({ grubbs, extremeDeviates }: Analysis): Line[] {
  const lines: Line[] = [];
  if (isRefused(grubbs)) lines.push(['outlier by Grubbs', grubbs.refused, '']);
  else {
    const { value, statistic, critical, outlier } = grubbs.twoSided;
    lines.push([
      'outlier by Grubbs',
      `${outlier ? '' : 'none: '}${ohms(value)}, G ${figure(statistic)} (critical ${figure(critical)})`,
      `Grubbs 1969, two-sided at ${percent(grubbs.significance)}`,
    ]);
  }
  if (isRefused(extremeDeviates)) return [...lines, ['outliers, several', extremeDeviates.refused, '']];
  const { outliers, significance } = extremeDeviates;
  return [
    ...lines,
    [
      'outliers, several',
      outliers.length === 0 ? 'none' : outliers.map(ohms).join(', '),
      `Rosner 1983, at ${percent(significance)}`,
    ],
  ];
}

function trendLines({ trend }: Analysis): Line[] {
  const { mannKendall, slope, baseline } = trend;
  const lines: Line[] = [];
  if (isRefused(mannKendall)) lines.push(['trend', mannKendall.refused, '']);
  else {
    const { s, p, tau, exact } = mannKendall;
    lines.push([
      'trend',
      `S ${s}, tau ${figure(tau)}, p ${probability(p)}`,
      `Mann-Kendall, ${exact ? 'exact' : 'normal approximation'}`,
    ]);
  }
  if (!isRefused(slope)) {
    const { everyPair, slopeError } = slope;
    const taken = everyPair
      ? 'all pairs'
      : `a million pairs, error of the slope at most ${small(slopeError)} with 99 %`;
    lines.push([
      'slope for each piece',
      `${small(slope.slope)} (${percent(slope.confidence)} interval ${small(slope.lower)} to ${small(slope.upper)})`,
      `Theil-Sen, Sen 1968; ${taken}`,
    ]);
  }
  if (isRefused(baseline)) return [...lines, ['control charts', baseline.refused, '']];
  const charts = [
    ['individuals', trend.individuals, '± 3 s of neighbours; e-Handbook 6.3.2.2'],
    ['EWMA', trend.ewma, 'λ 0.3, L 3; e-Handbook 6.3.2.4'],
    ['CUSUM', trend.cusum, 'k 0.5, h 5; e-Handbook 6.3.2.3'],
  ] as const;
  for (const [name, signals, source] of charts) {
    lines.push([
      `chart of ${name}`,
      isRefused(signals)
        ? signals.refused
        : `${signals.count} of ${signals.n} outside; by chance a signal begins ${withoutZeros(significant(signals.byChance, 2))} times in so many`,
      source,
    ]);
  }
  return lines;
}

function binLines({ bins }: Analysis): Line[] {
  if (isRefused(bins)) return [['histogram', bins.refused, '']];
  const { edges, counts, below, above } = bins;
  const beyond = (where: string, count: number): Line[] =>
    count === 0 ? [] : [[`histogram ${where}`, String(count), 'too far out to be drawn']];
  return [
    ...beyond('below', below),
    ...counts.map(
      (count, bin): Line => [
        `histogram from ${ohms(edges[bin] ?? 0)}`,
        String(count),
        bin === 0 ? 'Freedman and Diaconis 1981, whole steps of the meter' : '',
      ],
    ),
    ...beyond('above', above),
  ];
}

function notesOf(analysis: Analysis): string[] {
  const { capability, normalOutside, toleranceInterval, andersonDarling, grubbs, extremeDeviates, bins } = analysis;
  const ofNormal = analysis.shape.quoteCapability ? [capability, normalOutside] : [];
  const found = [...ofNormal, toleranceInterval, andersonDarling, grubbs, extremeDeviates, bins];
  return [...new Set(found.flatMap((each) => (isRefused(each) ? [] : each.notes)))];
}

function ohms(value: number): string {
  return `${withoutZeros(significant(value, DIGITS_OF_VALUES))} Ω`;
}

function small(value: number): string {
  return `${figure(value)} Ω`;
}

function figure(value: number): string {
  return withoutZeros(significant(value, DIGITS));
}

/** A probability; what is smaller than anybody needs is said to be. */
function probability(p: number): string {
  return p < SMALLEST_P ? `below ${SMALLEST_P}` : figure(p);
}

function withoutZeros(decimal: string): string {
  return decimal.includes('.') ? decimal.replace(/\.?0+$/, '') : decimal;
}

/** A share, 0 to 1. */
function percent(share: number): string {
  return `${withoutZeros(significantPercent(share, DIGITS_OF_PERCENT))} %`;
}
