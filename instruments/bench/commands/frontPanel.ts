import type { Command } from './command.ts';
import { functionName } from './parameters.ts';

/**
 * Somebody at the meter itself: `BENCh:FRONt "VOLT"` turns it to another function, `BENCh:RESTart` switches it off and
 * on. The lines to it stay open, as a serial adapter's do.
 */
export const frontPanel: readonly Command[] = [
  { header: 'BENCh:FRONt', parameters: [1, 1], run: (b, [name]) => b.select(functionName(name)) },
  { header: 'BENCh:RESTart', parameters: [0, 0], run: (b) => b.restart() },
];
