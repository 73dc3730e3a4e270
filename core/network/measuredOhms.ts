import { parseOhms } from '../quantity/parseOhms.ts';

/** What the meter shows when nothing conducts, as people write it. */
const OPEN = /^(open|overload|ol|o\.l\.?|∞)$/iu;

/** What was read between two nodes, in ohms; infinity for an open circuit. @throws problem resistance-unreadable */
export function parseMeasured(text: string): number {
  return OPEN.test(text.trim()) ? Number.POSITIVE_INFINITY : Number(parseOhms(text));
}
