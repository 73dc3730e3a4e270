import { valueText } from '../acquired.ts';
import { FUNCTIONS } from '../functions.ts';
import type { Manner } from '../manner.ts';
import { plain } from './plain.ts';

/** Sends three values per reading: value, unit, and how many readings there were since power came on. */
export const severalValues: Manner = {
  ...plain,
  readingText: (acquired) => [valueText(acquired), FUNCTIONS[acquired.function].unit, acquired.count].join(','),
};
