/** What somebody wants who was asked to put a piece on the probes. */
export type AnswerAtProbes =
  | { kind: 'placed' }
  | { kind: 'void' }
  | { kind: 'stop' }
  /** It is taken elsewhere; the position as it was typed, without spaces, empty for where it was asked for after all. */
  | { kind: 'position'; text: string }
  /** None of these: nobody has said that a piece lies there. */
  | { kind: 'none'; said: string };

/**
 * Reads what was answered: Enter alone, `v`, `q`, `p` with a number or alone. A number without its `p` is none of them, or a piece
 * would count as from where it was asked for just when somebody says that it is not.
 * @param line null where no more will be answered
 */
export function answerAtProbes(line: string | null): AnswerAtProbes {
  const said = line?.trim().toLowerCase() ?? 'q';
  if (said === '') return { kind: 'placed' };
  if (said === 'v') return { kind: 'void' };
  if (said === 'q') return { kind: 'stop' };
  const text = /^p([\d\s]*)$/.exec(said)?.[1];
  return text === undefined ? { kind: 'none', said } : { kind: 'position', text: text.replace(/\s/g, '') };
}
