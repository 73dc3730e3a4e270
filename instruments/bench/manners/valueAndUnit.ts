import { valueText } from '../acquired.ts';
import { FUNCTIONS } from '../functions.ts';
import type { Manner } from '../manner.ts';
import { plain } from './plain.ts';

/** Writes the unit behind each reading: `+4.702130E+03 OHM`, `+2.301E+01 C`, `-1.2E-05 V`. */
export const valueAndUnit: Manner = {
  ...plain,
  readingText: (acquired) => `${valueText(acquired)} ${FUNCTIONS[acquired.function].unit}`,
};
