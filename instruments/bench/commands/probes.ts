import { referenceOf, referenceText } from '../reference.ts';
import type { Command } from './command.ts';
import { oneOf, placeOrPair } from './parameters.ts';
import { wiringCommands } from './wiringCommands.ts';

const STRESSES = { NONE: null, HEAT: 'heat', LOAD: 'load', SOLDer: 'solder', STORage: 'storage' } as const;

/**
 * The operator's hands, which no meter has: `BENCh:PLACe 17`, `OPEN`, `SHORt`, `REFerence`, `FIXTure`.
 * `BENCh:PLACe "A1","B3"` puts them on two terminals of the wiring.
 * `BENCh:REFerence?` answers what is written on the reference resistor: its value and uncertainty in ohms.
 * `BENCh:STRess HEAT|LOAD|SOLDer|STORage` lays the same pieces there after this treatment, `NONE` as they were before.
 */
export const probes: readonly Command[] = [
  { header: 'BENCh:PLACe', parameters: [1, 2], run: (b, [where, other]) => b.place(placeOrPair(where, other)) },
  { header: 'BENCh:PLACe?', parameters: [0, 0], run: (b) => String(b.placed) },
  { header: 'BENCh:REFerence?', parameters: [0, 0], run: (b) => referenceText(referenceOf(b.scenario)) },
  {
    header: 'BENCh:STRess',
    parameters: [1, 1],
    run: (b, [kind]) => b.treat(STRESSES[oneOf(kind, Object.keys(STRESSES) as (keyof typeof STRESSES)[])]),
  },
  ...wiringCommands,
  { header: 'BENCh:STRess?', parameters: [0, 0], run: (b) => (b.conditions.stress ?? 'none').toUpperCase() },
];
