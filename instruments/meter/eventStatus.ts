/** Bits of the standard event status register (IEEE 488.2 11.5.1.1). Reading it clears it. */
const POWER_ON = 128;
const ERRORS = 32 + 16 + 8 + 4;
const OPERATION_COMPLETE = 1;

/** What the register tells of the time since it was last read. */
export interface EventStatus {
  /** It was switched off and on: its settings are gone. */
  restarted: boolean;
  /** It has a command, execution, device-dependent or query error to tell. */
  hasErrors: boolean;
  /** What it was told to note the end of (*OPC, IEEE 488.2 10.18) has ended. */
  isComplete: boolean;
}

/** Reads the answer to *ESR?; null if it is no whole number from 0 to 255 (IEEE 488.2 10.12.3: NR1). */
export function readEventStatus(answer: string): EventStatus | null {
  const number = /^ *\+?(\d{1,3}) *$/.exec(answer)?.[1];
  if (number === undefined || Number(number) > 255) return null;
  const has = (bits: number) => (Number(number) & bits) !== 0;
  return { restarted: has(POWER_ON), hasErrors: has(ERRORS), isComplete: has(OPERATION_COMPLETE) };
}
