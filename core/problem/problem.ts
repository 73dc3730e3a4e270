import { catalogue } from './catalogue.ts';

export type ProblemCode = keyof typeof catalogue;

/** A problem as it crosses a door: plain data. */
export interface ProblemText {
  code: ProblemCode;
  /** What happened, naming the thing; no full stop at the end. */
  what: string;
  /** What to do about it, a sentence or two. */
  toDo: string;
}

/** The one kind of error a person is told about. Its `message` is one line: what happened, what to do, the code. */
export class Problem extends Error implements ProblemText {
  readonly code: ProblemCode;
  readonly what: string;
  readonly toDo: string;

  constructor(text: ProblemText) {
    super(`${text.what}. ${text.toDo} [${text.code}]`);
    this.name = 'Problem';
    this.code = text.code;
    this.what = text.what;
    this.toDo = text.toDo;
  }

  toJSON(): ProblemText {
    return { code: this.code, what: this.what, toDo: this.toDo };
  }
}

/**
 * Makes the problem with this code from the facts its catalogue entry asks for. Facts may quote what a meter or a file
 * said; control characters in them become blanks, so that the message stays one line and steers no terminal.
 */
export function problem<C extends ProblemCode>(code: C, ...facts: Parameters<(typeof catalogue)[C]['what']>): Problem {
  const { what, toDo } = catalogue[code];
  const say = what as (...facts: unknown[]) => string;
  return new Problem({ code, what: say(...facts).replace(/[\p{Cc}\u2028\u2029]+/gu, ' '), toDo });
}

/** Turns whatever was thrown into a problem: a problem stays, anything else is a defect of ours. */
export function asProblem(thrown: unknown): Problem {
  if (thrown instanceof Problem) return thrown;
  return problem('defect', wordsOf(thrown));
}

/** The words of whatever was thrown, for a problem that quotes them. */
export function wordsOf(thrown: unknown): string {
  return thrown instanceof Error ? thrown.message : String(thrown);
}
