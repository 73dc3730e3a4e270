import { ScpiError } from '../grammar.ts';
import { plainName } from '../wiring.ts';
import type { Command } from './command.ts';
import { required } from './parameters.ts';

const LONGEST_STATE = 200;

/**
 * How switches in the wiring stand, which no meter has: `BENCh:STATe "Q1 on"`. Wires with another state conduct nothing then. The
 * probes are put on two terminals by `BENCh:PLACe "A1","B3"`.
 */
export const wiringCommands: readonly Command[] = [
  {
    header: 'BENCh:STATe',
    parameters: [1, 1],
    run: (b, [state]) => {
      const { kind, text } = { text: '', ...required(state) };
      if (kind !== 'string') throw new ScpiError(-104);
      if (text.length > LONGEST_STATE) throw new ScpiError(-222);
      b.conditions.state = decodeURIComponentOr(text);
      return undefined;
    },
  },
  { header: 'BENCh:STATe?', parameters: [0, 0], run: (b) => `"${plainName(b.conditions.state)}"` },
];

function decodeURIComponentOr(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
