import Big from 'big.js';
import { counts, type Reading, type Run, type Uncertainty } from '../inspection/run.ts';
import { type DecimalText, plain } from '../quantity/decimal.ts';
import { significantPercent } from '../quantity/significant.ts';
import { globalRisks, standardOhms } from '../uncertainty/risk.ts';
import { type TestUncertaintyRatio, testUncertaintyRatio } from '../uncertainty/testUncertaintyRatio.ts';
import type { Window } from '../window/window.ts';
import { type Row, textRow } from './format.ts';

const DIGITS_OF_RISK = 3;
const NOT_KNOWN = 'of no reading that counts is it known';
const NONE_AT_WINDOW = 'no reading of known uncertainty lies in the window or as near to it as its U';

/** A reading that counts and whose uncertainty is known. */
type Known = Reading & { uncertainty: Uncertainty };

/**
 * What the readings are worth by the largest uncertainty of those that count. Test uncertainty ratio and risks are of those at
 * the window: a piece of quite another value is read on another range and says nothing of verdicts there.
 */
export function worthRows(run: Run): Row[] {
  const { largest, atWindow, unknown } = knownOf(run);
  const ratio = atWindow && testUncertaintyRatio(run.window, atWindow.uncertainty.expandedOhms);
  return [
    {
      row: 'worth',
      item: 'largest expanded uncertainty',
      text: largest ? `of reading ${largest.reading}` : NOT_KNOWN,
      expanded_ohms: largest?.uncertainty.expandedOhms ?? '',
      coverage_factor: largest?.uncertainty.coverageFactor ?? '',
    },
    textRow('worth', 'readings whose uncertainty is not known', String(unknown)),
    {
      row: 'worth',
      item: 'smallest test uncertainty ratio',
      text: ratio === null ? noneWords(largest) : ratioWords(ratio),
      number: ratio?.ratio ?? '',
    },
    ...riskRows(run, atWindow, noneWords(largest)),
  ];
}

interface KnownReadings {
  /** The first with the largest uncertainty; the same of those at the window. */
  largest: Known | null;
  atWindow: Known | null;
  /** How many have a value whose uncertainty is not known. */
  unknown: number;
}

function knownOf({ readings, window }: Run): KnownReadings {
  let largest: Known | null = null;
  let atWindow: Known | null = null;
  let unknown = 0;
  for (const reading of readings) {
    if (reading.ohms === null || !counts(reading)) continue;
    if (!isKnown(reading)) {
      unknown++;
      continue;
    }
    if (largest === null || sizeOf(reading) > sizeOf(largest)) largest = reading;
    if ((atWindow === null || sizeOf(reading) > sizeOf(atWindow)) && isAtWindow(reading, window)) atWindow = reading;
  }
  return { largest, atWindow, unknown };
}

function isKnown(reading: Reading): reading is Known {
  return reading.uncertainty !== null;
}

function isAtWindow({ ohms, uncertainty: { expandedOhms } }: Known, { lower, upper }: Window): boolean {
  const value = new Big(ohms ?? 0);
  const reachesLower = lower === null || value.plus(expandedOhms).gte(lower);
  return reachesLower && (upper === null || value.minus(expandedOhms).lte(upper));
}

function noneWords(largest: Known | null): string {
  return largest === null ? NOT_KNOWN : NONE_AT_WINDOW;
}

function ratioWords(ratio: TestUncertaintyRatio): string {
  return ratio.ratio === null ? 'not given: the uncertainty is 0' : (ratio.warning ?? '');
}

function sizeOf({ uncertainty }: Known): number {
  return Number(uncertainty.expandedOhms);
}

/** The risks of the rule for a process of the spread that was given; none where none was given. */
function riskRows({ decision, window }: Run, largest: Known | null, none: string): Row[] {
  const { processSpreadOhms, rule, guardFactor } = decision;
  if (processSpreadOhms === null) return [];
  const because = (why: string): Row[] => [
    textRow('worth', "consumer's risk", why),
    textRow('worth', "producer's risk", why),
  ];
  const centre = centreOf(window);
  if (largest === null) return because(`not worked out: ${none}`);
  if (centre === null) return because('not worked out: a window of one limit without nominal value has no centre');
  const { expandedOhms } = largest.uncertainty;
  const measuring = standardOhms(largest.uncertainty);
  // What passes on condition conforms, so only the binary rule draws its limits in.
  const guard = rule === 'guard-band' ? Number(expandedOhms) * Number(guardFactor) : 0;
  const risks = globalRisks({ mean: Number(centre.ohms), spread: Number(processSpreadOhms), measuring, guard }, window);
  const words = `of a normal process centred on ${centre.words} with a standard deviation of ${processSpreadOhms} Ω, each reading with the largest uncertainty of those at the window (JCGM 106:2012, 9.4 and 9.5)`;
  const risk = (item: string, share: number, what: string): Row => ({
    row: 'worth',
    item,
    text: `${what}, ${words}`,
    percent: significantPercent(share, DIGITS_OF_RISK),
  });
  return [
    risk("consumer's risk", risks.consumer, 'outside the window and accepted'),
    risk("producer's risk", risks.producer, 'inside the window and not accepted'),
  ];
}

function centreOf({ nominal, lower, upper }: Window): { ohms: DecimalText; words: string } | null {
  if (nominal !== null) return { ohms: nominal, words: `the nominal value ${nominal} Ω` };
  if (lower === null || upper === null) return null;
  const middle = plain(new Big(lower).plus(upper).times('0.5'));
  return { ohms: middle, words: `the middle of the window ${middle} Ω` };
}
