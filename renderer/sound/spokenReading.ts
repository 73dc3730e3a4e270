import Big from 'big.js';
import type { Run } from '../../core/inspection/run.ts';
import type { DecimalText } from '../../core/quantity/decimal.ts';
import type { Verdict } from '../../core/window/judge.ts';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { certainDigits } from '../words/certainDigits.ts';
import { showReading } from '../words/ohms.ts';

/** A reading as far as it is spoken. */
export interface SpokenReading {
  ohms: DecimalText | null;
  raw: string;
  verdict: Verdict;
  uncertainty: { expandedOhms: DecimalText } | null;
}

const PREFIX_WORDS: Record<string, string> = { '': '', m: 'milli', k: 'kilo', M: 'mega', G: 'giga', T: 'tera' };
/** More figures than this nobody keeps in mind while the hands work. Our choice. */
const MOST_FIGURES = 5;

/**
 * A reading in words to be spoken: the verdict first, then the value rounded to its last certain digit, like `Pass. 4.73
 * kilo-ohms`. In a study only the value: how it stands must not lead the operator.
 */
export function spokenReading(reading: SpokenReading, run: Pick<Run, 'window' | 'plan'>): string {
  const value = spokenValue(reading, run);
  return run.plan.choice.kind === 'study' ? `${value}.` : `${VERDICT_WORDS[reading.verdict]}. ${value}.`;
}

function spokenValue({ ohms, raw, uncertainty }: SpokenReading, { window }: Pick<Run, 'window'>): string {
  if (ohms === null) return 'Overload';
  const shown = showReading({ ohms, raw }, window);
  const { certain } = certainDigits(shown, uncertainty?.expandedOhms ?? null);
  const prefix = PREFIX_WORDS[shown.unit.replace('Ω', '')] ?? '';
  return `${rounded(shown.figures, certain)} ${prefix === '' ? 'ohms' : `${prefix}-ohms`}`;
}

/** Rounded to the last certain digit after the point, and to no more figures than can be kept in mind. */
function rounded(figures: string, certain: string): string {
  const [whole = ''] = figures.split('.');
  const room = Math.max(0, MOST_FIGURES - whole.replace(/\D/g, '').length);
  const decimals = certain.split('.')[1]?.length ?? 0;
  return new Big(figures).toFixed(Math.min(decimals, room)).replace('-', 'minus ');
}
