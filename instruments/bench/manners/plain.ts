import { valueText } from '../acquired.ts';
import { acts } from '../commands/acts.ts';
import { faults } from '../commands/faults.ts';
import { frontPanel } from '../commands/frontPanel.ts';
import { hands } from '../commands/hands.ts';
import { ieee488 } from '../commands/ieee488.ts';
import { measurement } from '../commands/measurement.ts';
import { probes } from '../commands/probes.ts';
import { system } from '../commands/system.ts';
import type { Manner } from '../manner.ts';

/** SCPI-1999 as written: several commands in one message, readings as bare numbers, remote control at any time. */
export const plain: Manner = {
  commands: [...ieee488, ...measurement, ...system, ...probes, ...hands, ...frontPanel, ...faults, ...acts],
  functions: ['RES', 'FRES', 'CONT', 'VOLT', 'TEMP'],
  usualCycles: null,
  readingText: valueText,
  admitMessage: () => undefined,
  admitCommand: () => undefined,
  serve: null,
};
