import { fieldsOf, isNumber, messageOf } from './message.ts';

/** How one message of several questions is told from all others: a number that comes back around the answers. */
export interface Pairing {
  number: number;
  /** The command that writes the number; null where it stands in the register already. */
  set: string | null;
  /** How the number is asked for. */
  ask: string;
  /** How often it is asked for behind the questions; in front it is once. */
  times: 1 | 2;
}

/** The questions with their number around them, as one message. */
export function pairedMessage(questions: readonly string[], { set, ask, times }: Pairing): string {
  const behind = Array<string>(times).fill(ask);
  return messageOf([...(set === null ? [] : [set]), ask, ...questions, ...behind]);
}

/**
 * The answers in the line that came, in order; fewer than `questions` where one was refused and its field left out. Null
 * if the line is not that of this message.
 */
export function pairedAnswers(line: string, questions: number, { number, set, times }: Pairing): string[] | null {
  const fields = fieldsOf(line);
  const behind = fields.splice(-times);
  // In front as well, since a line may lose its first bytes and leave a number that looks whole.
  const isWhole = isNumber(fields.shift(), number) && behind.every((field) => isNumber(field, number));
  // A number that other messages carry too could stand in the place of an answer that was left out.
  const isDoubtful = set === null && fields.some((field) => isNumber(field, number));
  return isWhole && !isDoubtful && fields.length <= questions ? fields : null;
}
