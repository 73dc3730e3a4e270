import { counted, formatCount } from '../quantity/formatCount.ts';
import { capital } from '../quantity/sentence.ts';
import type { Plan } from '../sampling/plan.ts';
import type { LotFacts } from './event.ts';
import { type Standing, standingOf } from './outlook.ts';
import type { Run } from './run.ts';
import type { Tally } from './tally.ts';

/** How the lot's switching stands, in a sentence. */
export function severitySource({ switching, plan }: Pick<LotFacts, 'switching' | 'plan'>): string | null {
  if (switching === null || plan.choice.kind !== 'aql') return null;
  if (switching.override) return `${switching.override.by} chose ${plan.choice.severity}: ${switching.override.reason}`;
  return switching.why;
}

/** How far the sample is, and what was found: `41 of 80 measured`, `1 nonconforming, the plan accepts up to 2`. */
export function tallyWords(run: Run): { measured: string; found: string } {
  const { tally } = run;
  const standing = standingOf(run);
  return {
    measured: `${formatCount(tally.counted)} of ${formatCount(standing.wanted)} measured${standing.further ? ', further pieces included' : ''}`,
    found: `${formatCount(tally.nonconforming)} nonconforming${classAWords(run)}, ${limitWords(run, standing)}`,
  };
}

/** What will become of the lot whatever the rest reads, while it is not complete; null where that is open. */
export function certainWords(run: Run): string | null {
  const { certain, outlook } = standingOf(run);
  if (certain === null || outlook !== 'undecided') return null;
  const says = certain === 'accept' ? 'will be accepted' : 'will not be accepted';
  return `Certain already: the lot ${says}, whatever the rest reads. The sample is completed all the same, as its plan says.`;
}

/** How many of each side were decided on condition: `2 pass on condition`. */
function conditionWords({ conditionalPass, conditionalFailLow, conditionalFailHigh }: Tally): string[] {
  const fail = conditionalFailLow + conditionalFailHigh;
  return [
    conditionalPass > 0 && `${formatCount(conditionalPass)} pass on condition`,
    fail > 0 && `${formatCount(fail)} fail on condition`,
  ].filter((words) => words !== false);
}

function classAWords({ tally, classA }: Run): string {
  if (classA === null || tally.classA === 0) return '';
  return ` (${formatCount(tally.classA)} of them open, short or wrong value)`;
}

/** What counts now against what: the numbers of the sample, or of all pieces where further ones are measured. */
function limitWords({ plan, classA, tally }: Run, { further }: Standing): string {
  if (classA !== null && tally.classA > classA.accept) {
    return `of open, short and wrong values the plan accepts ${classA.accept === 0 ? 'none' : formatCount(classA.accept)}`;
  }
  if (plan.variables !== null && !further) return `mean and spread decide, k\u00a0=\u00a0${plan.variables.k}`;
  const { accept, reject } = further && plan.further ? plan.further : plan;
  const most = further || plan.further === null ? reject - 1 : accept;
  return `the plan accepts ${most === 0 ? 'none' : `up to\u00a0${formatCount(most)}`}`;
}

function studySentence(tally: Tally, plan: Plan): string {
  return `${formatCount(tally.counted)} of ${counted(plan.sampleSize, 'turn', 'turns')} read. A study says nothing of the lot.`;
}

/** What the plan says of the lot now, and why, with the numbers. */
export function outlookSentence(run: Run): string {
  const { tally, plan } = run;
  if (plan.choice.kind === 'study') return studySentence(tally, plan);
  const standing = standingOf(run);
  const nonconforming =
    tally.nonconforming === 0 ? 'none nonconforming' : `${formatCount(tally.nonconforming)}\u00a0nonconforming`;
  const found = [`${nonconforming}${classAWords(run)}`, ...conditionWords(tally)].join(', ');
  const of = `${formatCount(tally.counted)} of ${counted(standing.wanted, 'piece', 'pieces')} measured`;
  const why = standing.why === null ? '' : ` ${standing.why}`;
  const limit = capital(limitWords(run, standing));
  if (standing.outlook === 'accept') return `${of}, ${found}.${why} ${limit}: the lot may be accepted.`;
  if (standing.outlook === 'not-accept') {
    const rest = tally.counted < standing.wanted ? '; the rest need not be measured' : '';
    return `${of}, ${found}.${why} ${limit}: the lot may not be accepted${rest}.`;
  }
  return `${of}, ${found}.${why} ${limit}: the plan does not decide yet.`;
}
