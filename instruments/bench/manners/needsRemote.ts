import { ScpiError } from '../grammar.ts';
import type { Manner } from '../manner.ts';
import { plain } from './plain.ts';

// Common commands; remote control itself; the bench's own commands, which are not the meter's.
const ALWAYS = /^(\*|SYST(EM)?:(REM(OTE)?|RWL(OCK)?|LOC(AL)?)$|BENC(H)?:)/;

/** Refuses everything but common commands until SYSTem:REMote, as some meters do on serial lines (common practice). */
export const needsRemote: Manner = {
  ...plain,
  admitCommand: (bench, header) => {
    if (!bench.remote && !ALWAYS.test(header)) throw new ScpiError(-201, header);
  },
};
