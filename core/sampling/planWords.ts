import { counted, formatCount } from '../quantity/formatCount.ts';
import { sentence } from '../quantity/sentence.ts';
import type { StudyChoice } from '../study/studyPlan.ts';
import type { Plan } from './plan.ts';
import type { PlanChoice, PlanPoints } from './planChoice.ts';
import { type ShownPoint, shownPoints } from './planOc.ts';

/** What the plan asks for, in a sentence. */
export function planSentence(plan: Plan, lotSize: number): string {
  if (plan.choice.kind === 'study') return `Take ${counted(plan.sampleSize, 'reading', 'readings')}, turn by turn.`;
  const every = lotSize === 1 ? 'Measure the only piece' : `Measure every piece: all ${formatCount(lotSize)}`;
  const measure = plan.everyPiece
    ? `${every} of the lot.`
    : `Measure ${formatCount(plan.sampleSize)} of ${counted(lotSize, 'piece', 'pieces')}.`;
  return `${measure} ${decidesSentence(plan)}`;
}

/** The same, short enough for a card: two samples and the plan that counts by their numbers alone. */
export function planBriefly(plan: Plan, lotSize: number): string {
  const { further, variables, sampleSize } = plan;
  if (further === null) return planSentence(plan, lotSize);
  const measure = `Measure ${formatCount(sampleSize)} of ${counted(lotSize, 'piece', 'pieces')}`;
  const most = (numbers: Pick<Plan, 'reject'>) =>
    numbers.reject === 1 ? 'none' : `up to ${formatCount(numbers.reject - 1)}`;
  const all = formatCount(sampleSize + further.sampleSize);
  if (variables !== null) {
    return `${measure}: mean and spread decide, k\u00a0=\u00a0${variables.k}; else ${all} are counted, ${most(further)} accepted.`;
  }
  const first = plan.accept === 0 ? 'none' : `up to ${formatCount(plan.accept)}`;
  return `${measure}, ${first} accepted, ${formatCount(plan.reject)} not; between, ${all} in all, ${most(further)} accepted.`;
}

function decidesSentence(plan: Plan): string {
  const { further, variables } = plan;
  if (variables !== null && further !== null) {
    return `Mean and spread decide: each limit at least k = ${variables.k} standard deviations from the mean. Where the values do not look normal ${counted(further.sampleSize, 'more piece is', 'more pieces are')} measured and counted: ${acceptanceSentence(further)}`;
  }
  if (further === null) return sentence(acceptanceSentence(plan));
  return `${sentence(firstSentence(plan))} Between, ${formatCount(further.sampleSize)} more are measured; of all together ${acceptanceSentence(further)}`;
}

/** Of the first of two samples: what lies between its numbers is decided by the second. */
function firstSentence({ accept, reject }: Plan): string {
  const accepted =
    accept === 0 ? 'no nonconforming piece' : counted(accept, 'nonconforming piece', 'nonconforming pieces');
  return `${accepted} in the first sample: accepted; ${formatCount(reject)}: not accepted.`;
}

function acceptanceSentence({ accept, reject }: Pick<Plan, 'accept' | 'reject'>): string {
  const accepted =
    accept === 0 ? 'no nonconforming piece is' : counted(accept, 'nonconforming piece is', 'nonconforming pieces are');
  if (reject > accept + 1)
    return `${accepted} accepted, ${formatCount(reject)} are not; ${gapWords(accept + 1, reject - 1)}.`;
  return accept === 0 ? `${accepted} accepted.` : `${accepted} accepted, ${formatCount(reject)} are not.`;
}

/** Between the numbers of reduced inspection (MIL-STD-105E, 4.7.4 b). */
function gapWords(from: number, to: number): string {
  const which = from === to ? formatCount(from) : `${formatCount(from)} to ${formatCount(to)}`;
  return `with ${which} the lot is accepted, and inspection is normal again`;
}

/** Where the plan comes from. */
export function planSource(plan: Plan): string {
  const { choice } = plan;
  switch (choice.kind) {
    case 'study':
      return studySource(choice);
    case 'agreed':
      return 'Numbers agreed for this lot';
    case 'every-piece':
      return '100 % inspection';
    case 'zero-acceptance':
      return `Zero acceptance: a lot with ${choice.refusedPercent}\u00a0% nonconforming passes in ${choice.riskPercent}\u00a0% of the cases at most (hypergeometric)`;
    case 'two-point':
      return `${pointsText(choice)}, ${choice.of === 'lot' ? 'counted of this lot (hypergeometric)' : 'counted of a process (binomial)'}`;
    case 'aql':
      return `${choice.standard}, AQL ${choice.aql}, level ${choice.level}, ${lettersText(plan)}, ${choice.severity} inspection, ${plan.further ? 'double' : 'single'} sampling`;
    case 'variables':
      return variablesSource(plan, choice);
  }
}

function variablesSource(plan: Plan, { by, spreadOhms }: Extract<PlanChoice, { kind: 'variables' }>): string {
  if (plan.variables === null) return 'Counting takes no more pieces than mean and spread would, so pieces are counted';
  const spread = spreadOhms === null ? 'spread of the sample' : `spread known as ${spreadOhms}\u00a0Ω`;
  const from =
    by.kind === 'aql'
      ? `MIL-STD-414, AQL ${by.aql}, level ${by.level}, ${lettersText(plan)}, ${by.severity} inspection`
      : pointsText(by);
  return `By variables: ${from}, ${spread}`;
}

function lettersText({ codeLetter, planLetter }: Plan): string {
  return codeLetter === planLetter || planLetter === null
    ? `code letter ${codeLetter}`
    : `code letter ${codeLetter}, plan of letter ${planLetter}`;
}

function pointsText(points: PlanPoints): string {
  const { acceptedPercent, producerRiskPercent, refusedPercent, consumerRiskPercent } = points;
  return `${acceptedPercent}\u00a0% nonconforming refused in ${producerRiskPercent}\u00a0% at most, ${refusedPercent}\u00a0% accepted in ${consumerRiskPercent}\u00a0% at most`;
}

/** What the plan lets pass and what it stops: `A lot with 1 % nonconforming is accepted 99 % of the time, one with 6 % in 6 %.` */
export function chancesSentence(plan: Plan, lotSize: number): string {
  if (plan.choice.kind === 'study') return '';
  if (plan.everyPiece) return 'Every piece is measured: nothing is left to chance but the measurement itself.';
  const [good, bad] = shownPoints(plan, lotSize) as [ShownPoint, ShownPoint];
  return `A lot with ${shareText(good.share)} nonconforming is accepted ${chanceText(good.chance)} of the time, one with ${shareText(bad.share)} in ${chanceText(bad.chance)}.`;
}

const shareText = (share: number) => `${Number((100 * share).toPrecision(2))}\u00a0%`;

/** Never 100 % of what may fail, never 0 % of what may pass. */
function chanceText(chance: number): string {
  const percent = 100 * chance;
  if (percent > 99.95 && percent < 100) return 'more than 99.9\u00a0%';
  if (percent > 0 && percent < 0.05) return 'less than 0.1\u00a0%';
  return `${Number(percent.toFixed(percent > 99 || percent < 10 ? 1 : 0))}\u00a0%`;
}

function studySource({ design, pieces, operators, repeats, sessions, runs }: StudyChoice): string {
  const times = [
    counted(pieces, 'piece', 'pieces'),
    operators.length > 1 && counted(operators.length, 'operator', 'operators'),
    counted(repeats, 'repeat', 'repeats'),
    sessions > 1 && counted(sessions, 'session', 'sessions'),
    runs > 1 && counted(runs, 'run', 'runs'),
  ].filter((part) => part !== false);
  return `Study of the measurement, ${design === 'crossed' ? 'crossed' : 'one operator'}: ${times.join(' × ')}`;
}
