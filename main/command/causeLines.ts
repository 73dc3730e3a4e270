import type { LotExplained } from '../../core/diagnosis/oddLot.ts';
import { notToldApart } from '../../core/diagnosis/readingCauses.ts';
import { capital } from '../../core/quantity/sentence.ts';

/** What may be wrong with a lot, best first, for the terminal. */
export function causeLines(causes: readonly LotExplained[]): string[] {
  if (causes.length === 0)
    return ['', 'Nothing odd is seen in these readings as a whole. That is no proof that nothing is wrong.'];
  const alike = notToldApart(causes);
  return [
    '',
    `What it may be${alike > 1 ? ` (these readings cannot tell between the first ${alike})` : ''}; it changes no verdict:`,
    ...causes.flatMap(({ cause, evidence, next }, index) => [
      `${index + 1}. ${capital(cause)}. ${evidence}`,
      `   Next: ${next}`,
    ]),
  ];
}
