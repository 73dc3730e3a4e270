import { problem } from '../problem/problem.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Window } from '../window/window.ts';
import { type CrossedStudy, crossedStudy } from './crossed.ts';
import { missingWords } from './missingWords.ts';
import { orderOf, type Turn } from './order.ts';
import type { CrossedReading, SingleReading, StudyReadings } from './reading.ts';
import { type SingleStudy, singleStudy } from './single.ts';
import type { StudyChoice } from './studyPlan.ts';

/** What a study of either design says. */
export type Study = CrossedStudy | SingleStudy;

/**
 * Works out a study.
 * @param window limits the shares of tolerance are of; null where there is none
 * @throws problems of crossedStudy and singleStudy
 */
export function studyOf(of: StudyReadings, window: Pick<Window, 'lower' | 'upper'> | null): Study {
  return of.design === 'crossed'
    ? crossedStudy(of.readings, window)
    : singleStudy(of.readings, { window, reference: of.reference });
}

/**
 * The readings of a measured study, in the order of its turns.
 * @param ohms the value of each turn; null or left out where it gave none (an open piece)
 * @throws problem study-readings-missing naming them, and those of orderOf
 */
export function readingsOf(choice: StudyChoice, ohms: (turn: number) => DecimalText | null | undefined): StudyReadings {
  const missing: string[] = [];
  const taken = orderOf(choice).map((turn) => {
    const value = ohms(turn.turn);
    if (value === null || value === undefined) missing.push(turnWords(choice, turn));
    return { turn, ohms: value ?? '' };
  });
  if (missing.length > 0) throw problem('study-readings-missing', missingWords(missing, missing.length));
  if (choice.design === 'crossed') return { design: 'crossed', readings: taken.map(crossedReading) };
  const reference =
    choice.referenceOhms === null
      ? null
      : { ohms: choice.referenceOhms, uncertaintyOhms: choice.referenceUncertaintyOhms };
  return { design: 'single', readings: taken.map(singleReading), reference };
}

type Taken = { turn: Turn; ohms: DecimalText };

function crossedReading({ turn, ohms }: Taken): CrossedReading {
  return { piece: String(turn.piece), operator: turn.operator, repeat: turn.repeat, ohms };
}

function singleReading({ turn, ohms }: Taken): SingleReading {
  return { piece: String(turn.piece), run: turn.run, session: turn.session, repeat: turn.repeat, ohms };
}

function turnWords(choice: StudyChoice, turn: Turn): string {
  return choice.design === 'crossed'
    ? `turn ${turn.turn} (piece ${turn.piece}, ${turn.operator}, repeat ${turn.repeat})`
    : `turn ${turn.turn} (piece ${turn.piece}, run ${turn.run}, session ${turn.session}, repeat ${turn.repeat})`;
}
