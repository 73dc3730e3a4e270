import { acts } from '../commands/acts.ts';
import type { Command } from '../commands/command.ts';
import { faults } from '../commands/faults.ts';
import { frontPanel } from '../commands/frontPanel.ts';
import { hands } from '../commands/hands.ts';
import { ieee488 } from '../commands/ieee488.ts';
import { reading } from '../commands/measurement.ts';
import { cycles, oneOf, range, required } from '../commands/parameters.ts';
import { probes } from '../commands/probes.ts';
import { system } from '../commands/system.ts';
import type { FunctionName } from '../functions.ts';
import type { Manner } from '../manner.ts';
import { scpiNumber } from '../scpiNumber.ts';
import { plain } from './plain.ts';

const MODES = { OHMS2: 'RES', OHMS4: 'FRES', DCV: 'VOLT' } as const satisfies Record<string, FunctionName>;
const modeNames = Object.keys(MODES) as (keyof typeof MODES)[];

/**
 * Words of our own invention, which no meter has:
 *
 *     MODE OHMS2|OHMS4|DCV     2-wire, 4-wire, DC volts; MODE? answers the word without quotes
 *     SPAN <ohms or volts>     fixed range that covers so much; SPAN? answers full scale
 *     SPAN AUTO                automatic range; SPAN:AUTO? answers 1 or 0
 *     SPEED <cycles>           integration time in power-line cycles; SPEED? answers it
 *     TAKE?                    takes a reading
 *
 * SPAN and SPEED belong to the mode in use; each mode keeps its own.
 */
const words: Command[] = [
  { header: 'MODE', parameters: [1, 1], run: (b, [name]) => b.select(MODES[oneOf(name, modeNames)]) },
  {
    header: 'MODE?',
    parameters: [0, 0],
    run: (b) => modeNames.find((mode) => MODES[mode] === b.function) ?? '',
  },
  {
    header: 'SPAN',
    parameters: [1, 1],
    run: (b, [wanted]) => {
      if (wanted?.kind === 'word' && wanted.text === 'AUTO') return b.change(b.function, { auto: true });
      return b.change(b.function, { range: range(required(wanted), b.function), auto: false });
    },
  },
  { header: 'SPAN?', parameters: [0, 0], run: (b) => scpiNumber(b.settings[b.function].range) },
  { header: 'SPAN:AUTO?', parameters: [0, 0], run: (b) => (b.settings[b.function].auto ? '1' : '0') },
  {
    header: 'SPEED',
    parameters: [1, 1],
    run: (b, [wanted]) => b.change(b.function, { cycles: cycles(required(wanted)) }),
  },
  { header: 'SPEED?', parameters: [0, 0], run: (b) => scpiNumber(b.settings[b.function].cycles) },
  { header: 'TAKE?', parameters: [0, 0], run: reading },
];

/** Has other words for functions, ranges, integration time and reading, and no CONFigure, MEASure, SENSe, READ?. */
export const otherWords: Manner = {
  ...plain,
  commands: [...ieee488, ...words, ...system, ...probes, ...hands, ...frontPanel, ...faults, ...acts],
  functions: Object.values(MODES),
};
