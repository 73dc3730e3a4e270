import { asProblem } from '../../core/problem/problem.ts';
import { type DecimalText, decimalText } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';

/** What is below it is closed, in ohms, leads included: common practice for wires and contacts. */
export const USUAL_CLOSED_BELOW = '10 ohm';
/** From here on a finger or damp dirt would pass for a wire; it is no continuity any more. Our choice. */
const MOST_OHMS = 1000;

/** Reads the threshold as it was typed, like `10`, `0R5` or `2 ohm`: in ohms, or what is wrong with it. */
export function readClosedBelow(text: string): { ohms: DecimalText } | { wrong: string } {
  try {
    const ohms = parseOhms(text);
    if (ohms.lte(0) || ohms.gt(MOST_OHMS)) return { wrong: `Give a resistance above 0 Ω, at most ${MOST_OHMS} Ω.` };
    return { ohms: decimalText.parse(ohms.toFixed()) };
  } catch (thrown) {
    return { wrong: asProblem(thrown).toDo };
  }
}
