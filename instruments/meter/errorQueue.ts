import { problem } from '../../core/problem/problem.ts';
import type { Session } from '../scpi/session.ts';

const MOST_ERRORS = 30;

/**
 * Empties the instrument's error queue, oldest first, at most 30 (SCPI-1999 volume 2, 21.8: SYSTem:ERRor[:NEXT]?).
 * @param question as the dialect words it
 * @param milliseconds deadline of each entry
 * @returns the entries as the instrument words them, like `-113,"Undefined header"`; empty if there was none
 * @throws {Problem} answer-unreadable, or what `Session.ask` throws
 */
export async function readErrorQueue(session: Session, question: string, milliseconds: number): Promise<string[]> {
  const found: string[] = [];
  while (found.length < MOST_ERRORS) {
    const [answer = ''] = await session.ask([question], milliseconds);
    const number = /^ *([+-]?\d+) *(?:,|$)/.exec(answer)?.[1];
    if (number === undefined) {
      session.doubt();
      throw problem('answer-unreadable', question, answer);
    }
    if (Number(number) === 0) break;
    found.push(answer.trim());
  }
  return found;
}
