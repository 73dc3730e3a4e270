import type { Outlook } from '../../core/inspection/run.ts';
import type { Tally } from '../../core/inspection/tally.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import type { StudyChoice } from '../../core/study/studyPlan.ts';
import { counted, formatCount } from './count.ts';

/** What the plan asks for, in a sentence. */
export function planSentence(plan: Plan, lotSize: number): string {
  if (plan.choice.kind === 'study') return `Take ${counted(plan.sampleSize, 'reading', 'readings')}, turn by turn.`;
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
  if (plan.choice.kind === 'study') return studySource(plan.choice);
  if (plan.choice.kind === 'agreed') return 'Numbers agreed for this lot';
  const letter =
    plan.codeLetter === plan.planLetter
      ? `code letter ${plan.codeLetter}`
      : `code letter ${plan.codeLetter}, plan of letter ${plan.planLetter}`;
  return `AQL ${plan.choice.aql}, level ${plan.choice.level}, ${letter}, normal inspection`;
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

/** How far the sample is, and what was found: `41 of 80 measured`, `1 nonconforming, the plan accepts up to 2`. */
export function tallyWords(tally: Tally, plan: Plan): { measured: string; found: string } {
  return {
    measured: `${formatCount(tally.counted)} of ${formatCount(plan.sampleSize)} measured`,
    found: `${formatCount(tally.nonconforming)} nonconforming, ${limitWords(plan)}`,
  };
}

/** How many of each side were decided on condition: `2 pass on condition`. */
function conditionWords({ conditionalPass, conditionalFailLow, conditionalFailHigh }: Tally): string[] {
  const fail = conditionalFailLow + conditionalFailHigh;
  return [
    conditionalPass > 0 && `${formatCount(conditionalPass)} pass on condition`,
    fail > 0 && `${formatCount(fail)} fail on condition`,
  ].filter((words) => words !== false);
}

const limitWords = ({ accept }: Plan) =>
  `the plan accepts ${accept === 0 ? 'none' : `up to\u00a0${formatCount(accept)}`}`;

function studySentence(tally: Tally, plan: Plan): string {
  return `${formatCount(tally.counted)} of ${counted(plan.sampleSize, 'turn', 'turns')} read. A study says nothing of the lot.`;
}

/** What the plan says of the lot now, and why, with the numbers. */
export function outlookSentence(outlook: Outlook, tally: Tally, plan: Plan): string {
  if (plan.choice.kind === 'study') return studySentence(tally, plan);
  const nonconforming =
    tally.nonconforming === 0 ? 'none nonconforming' : `${formatCount(tally.nonconforming)}\u00a0nonconforming`;
  const found = [nonconforming, ...conditionWords(tally)].join(', ');
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
