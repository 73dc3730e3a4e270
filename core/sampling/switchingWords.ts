import { LOTS_FOR_REDUCED, type Reduced, SCORE_FOR_REDUCED } from './reducedInspection.ts';
import type { Standard } from './singlePlan.ts';
import { type Cause, MOST_NOT_ACCEPTED, type Standing, WINDOW } from './standing.ts';
import type { SwitchingState } from './switching.ts';

/** Why the severity is what it is, and what would change it, with the clauses of the standard in force. */
export function whyOf(
  { severity, cause, causedBy, counted, uncounted }: Standing,
  {
    consecutiveAccepted,
    notAcceptedOnTightened,
  }: Pick<SwitchingState, 'consecutiveAccepted' | 'notAcceptedOnTightened'>,
  standard: Standard | null,
  reduced: Reduced | null,
): string {
  const clause = (ofMilStd: string, ofIso: string) => clauseOf(standard, ofMilStd, ofIso);
  const words = [
    `${NAMES[severity]}: ${causeWords(
      cause,
      causedBy.map(({ run }) => run),
      clause,
    )}.`,
  ];
  if (severity === 'normal' && counted.length > 0) {
    const window = counted.slice(-WINDOW);
    const bad = window.filter(({ accepted }) => !accepted).length;
    words.push(
      `${bad} of the last ${lots(window.length)} not accepted; 2 of at most 5 in a row make it tightened (${clause('4.7.1', '9.3.1')}).`,
    );
  }
  if (reduced !== null) words.push(reducedWords(reduced, consecutiveAccepted, clause));
  if (severity === 'tightened') {
    words.push(
      `${lots(consecutiveAccepted)} accepted in a row; ${WINDOW} make it normal (${clause('4.7.2', '9.3.2')}).`,
      `${notAcceptedOnTightened} not accepted since it began; ${MOST_NOT_ACCEPTED} discontinue inspection (${clause('4.8', '9.4')}).`,
    );
  }
  if (severity === 'reduced') {
    const between = standard === 'ISO 2859-1' ? '' : ' or accepted with a count between Ac and Re';
    words.push(
      `${lots(consecutiveAccepted)} accepted in a row; one not accepted${between}, or irregular production, makes it normal (${clause('4.7.4', '9.3.4')}).`,
    );
  }
  if (severity === 'discontinued') {
    words.push(
      `No lot is inspected until the supplier has improved and a person resumes inspection with name and reason; it is tightened then (${clause('4.8', '9.4')}).`,
    );
  }
  if (uncounted > 0) {
    words.push(
      `${lots(uncounted)} inspected with another severity than the one in force ${uncounted === 1 ? 'does' : 'do'} not count.`,
    );
  }
  return words.join(' ');
}

/** Before the first lot no standard is in force, and the two agree. */
function clauseOf(standard: Standard | null, ofMilStd: string, ofIso: string): string {
  if (standard === null) return `MIL-STD-105E, ${ofMilStd}; ISO 2859-1, ${ofIso}`;
  return standard === 'ISO 2859-1' ? `${standard}, ${ofIso}` : `${standard}, ${ofMilStd}`;
}

const NAMES = { normal: 'Normal', tightened: 'Tightened', reduced: 'Reduced', discontinued: 'Discontinued' } as const;

type Clause = (ofMilStd: string, ofIso: string) => string;

function causeWords(cause: Cause, runs: readonly number[], clause: Clause): string {
  const which = runsWords(runs);
  switch (cause.kind) {
    case 'start':
      return `inspection starts so (${clause('4.6.1', '9.1')})`;
    case 'override':
      return cause.afterDiscontinuation
        ? `${cause.by} resumed discontinued inspection with ${which}: ${cause.reason} (${clause('4.8', '9.4')})`
        : `set by ${cause.by} with ${which}: ${cause.reason}`;
    case 'two-not-accepted':
      return `2 of ${cause.of} lots in a row were not accepted, ${which} (${clause('4.7.1', '9.3.1')})`;
    case 'five-accepted':
      return `5 lots in a row were accepted on tightened inspection, ${which} (${clause('4.7.2', '9.3.2')})`;
    case 'not-accepted-on-reduced':
      return `a lot was not accepted while inspection was reduced, ${which} (${clause('4.7.4', '9.3.4')})`;
    case 'between-on-reduced':
      return `a lot on reduced inspection had ${cause.nonconforming} nonconforming, between Ac and Re, ${which} (MIL-STD-105E, 4.7.4)`;
    case 'five-not-accepted':
      return `5 lots were not accepted since tightened inspection began, ${which} (${clause('4.8', '9.4')})`;
  }
}

function reducedWords(reduced: Reduced, consecutiveAccepted: number, clause: Clause): string {
  const rule = clause('4.7.3', '9.3.3');
  const may = `Reduced inspection is allowed, if production is steady and a person wants it (${rule})`;
  const mayNot = `Reduced inspection is not allowed (${rule})`;
  switch (reduced.kind) {
    case 'score':
      return `${reduced.allowed ? may : mayNot}: the switching score is ${reduced.score}, and ${SCORE_FOR_REDUCED} is asked for.`;
    case 'no-table':
      return `${mayNot}: the limit numbers of Table VIII are not at hand.`;
    case 'too-few-lots':
      return `${mayNot}: ${lots(consecutiveAccepted)} accepted in a row, and ${LOTS_FOR_REDUCED} of this standard are asked for.`;
    case 'aqls-differ':
      return `${mayNot}: the last ${LOTS_FOR_REDUCED} lots had different AQLs, and a limit number is of one.`;
    case 'too-few-units':
      return `${mayNot}: the ${reduced.units} pieces measured of the last ${lots(reduced.lots)} are too few for a limit number (Table VIII).`;
    case 'limit-number':
      return `${reduced.allowed ? may : mayNot}: ${reduced.nonconforming} nonconforming in the ${reduced.units} pieces measured of the last ${lots(reduced.lots)}, and the limit number is ${reduced.limit} (Table VIII).`;
  }
}

function lots(count: number): string {
  return count === 1 ? '1 lot' : `${count} lots`;
}

function runsWords(runs: readonly number[]): string {
  const last = runs.at(-1) as number;
  return runs.length === 1 ? `run ${last}` : `runs ${runs.slice(0, -1).join(', ')} and ${last}`;
}
