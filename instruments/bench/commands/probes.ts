import { referenceOf, referenceText } from '../reference.ts';
import type { Command } from './command.ts';
import { place } from './parameters.ts';

/**
 * The operator's hands, which no meter has: `BENCh:PLACe 17`, `OPEN`, `SHORt`, `REFerence`, `FIXTure`.
 * `BENCh:REFerence?` answers what is written on the reference resistor: its value and uncertainty in ohms.
 */
export const probes: readonly Command[] = [
  { header: 'BENCh:PLACe', parameters: [1, 1], run: (b, [where]) => b.place(place(where)) },
  { header: 'BENCh:PLACe?', parameters: [0, 0], run: (b) => String(b.placed) },
  { header: 'BENCh:REFerence?', parameters: [0, 0], run: (b) => referenceText(referenceOf(b.scenario)) },
];
