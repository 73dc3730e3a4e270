import { formatOhms } from '../quantity/formatOhms.ts';
import { significant } from '../quantity/significant.ts';

/** Ohms in the words of a cause: five digits are enough to know a value again. */
export function ohmsText(ohms: number, digits = 5): string {
  return formatOhms(significant(ohms, digits, 9));
}

/** A share, 0 to 1, in two digits. */
export function percentText(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}
