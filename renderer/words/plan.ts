import type { Outlook } from '../../core/inspection/run.ts';
import type { Tally } from '../../core/inspection/tally.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { counted, formatCount } from './count.ts';

/** What the plan asks for, in a sentence. */
export function planSentence(plan: Plan, lotSize: number): string {
  const every = lotSize === 1 ? 'Measure the only piece' : `Measure every piece: all ${formatCount(lotSize)}`;
  const measure = plan.everyPiece
    ? `${every} of the lot.`
    : `Measure ${formatCount(plan.sampleSize)} of ${counted(lotSize, 'piece', 'pieces')}.`;
  return `${measure} ${acceptanceSentence(plan)}`;
}

function acceptanceSentence({ accept, reject }: Plan): string {
  if (accept === 0) return 'No nonconforming piece is accepted.';
  const accepted = `${counted(accept, 'nonconforming piece is', 'nonconforming pieces are')} accepted`;
  return `${accepted}, ${formatCount(reject)} are not.`;
}

/** Where the plan comes from. */
export function planSource(plan: Plan): string {
  if (plan.choice.kind === 'agreed') return 'Numbers agreed for this lot';
  const letter =
    plan.codeLetter === plan.planLetter
      ? `code letter ${plan.codeLetter}`
      : `code letter ${plan.codeLetter}, plan of letter ${plan.planLetter}`;
  return `AQL ${plan.choice.aql}, level ${plan.choice.level}, ${letter}, normal inspection`;
}

/** How far the sample is: `41 of 80 measured · 1 nonconforming, the plan accepts up to 2`. */
export function tallySentence(tally: Tally, plan: Plan): string {
  return [
    `${formatCount(tally.counted)} of ${formatCount(plan.sampleSize)} measured`,
    `${formatCount(tally.nonconforming)} nonconforming, ${limitWords(plan)}`,
  ].join(' · ');
}

const limitWords = ({ accept }: Plan) => `the plan accepts ${accept === 0 ? 'none' : `up to ${formatCount(accept)}`}`;

/** What the plan says of the lot now, and why, with the numbers. */
export function outlookSentence(outlook: Outlook, tally: Tally, plan: Plan): string {
  const found =
    tally.nonconforming === 0 ? 'none nonconforming' : `${formatCount(tally.nonconforming)}\u00a0nonconforming`;
  const of = `${formatCount(tally.counted)} of ${counted(plan.sampleSize, 'piece', 'pieces')} measured`;
  const limit = `T${limitWords(plan).slice(1)}`;
  if (outlook === 'accept') {
    return `${of}, ${found}. ${limit}: the lot may be accepted.`;
  }
  if (outlook === 'not-accept') {
    const rest = tally.counted < plan.sampleSize ? '; the rest need not be measured' : '';
    return `${of}, ${found}. ${limit}: the lot may not be accepted${rest}.`;
  }
  return `${of}, ${found}. ${limit}: the plan does not decide yet.`;
}
