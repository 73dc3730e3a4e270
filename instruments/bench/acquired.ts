import type { FunctionName } from './functions.ts';
import { OVERLOAD } from './meterModel.ts';
import { scpiNumber } from './scpiNumber.ts';

/** One reading of the display, in the unit of its function, and what its last digit is worth. */
export interface Acquired {
  function: FunctionName;
  value: number;
  step: number;
  /** How many readings the meter took since power came on, this one included. */
  count: number;
}

/** A reading with the digits the meter resolves and no more; infinity for overload. */
export function valueText({ value, step }: Acquired): string {
  if (value === OVERLOAD) return scpiNumber(value);
  // Zero has no leading digit to count from: its decimals alone reach down to the last digit.
  const leading = value === 0 ? 1 : Math.abs(value);
  const digits = Math.floor(Math.log10(leading / step) + 1e-9);
  return scpiNumber(value, Math.max(0, Math.min(8, digits)));
}
