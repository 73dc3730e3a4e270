import type { Manner } from '../manner.ts';
import { plain } from './plain.ts';

/** Has no 4-wire terminals: FRESistance is an undefined header. */
export const twoWireOnly: Manner = {
  ...plain,
  functions: plain.functions.filter((name) => name !== 'FRES'),
};
