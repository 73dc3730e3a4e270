/** How commands and answers are laid on a line, whatever carries it. */
export interface LineSettings {
  /** What ends a command. */
  out: 'lf' | 'cr' | 'crlf';
  /** What ends an answer; `any`: CR or LF, whichever comes. */
  in: 'any' | 'lf' | 'cr' | 'crlf';
  /** Whether the meter sends back what it is sent. `auto`: found out while step is proved. */
  echo: 'auto' | 'on' | 'off';
  /** Least time from one command to the next. */
  delayMilliseconds: number;
  /** Most bytes of one message without its end; null where nothing is known of a limit. */
  longestCommand: number | null;
}

/** Commands end with LF (IEEE 488.2 7.5: NL); answers may end with LF, CR or both, as RS-232 meters do (common practice). */
export const usualLineSettings: LineSettings = {
  out: 'lf',
  in: 'any',
  echo: 'auto',
  delayMilliseconds: 0,
  longestCommand: null,
};

/** The bytes of an end of line. */
export const ENDS = { lf: '\n', cr: '\r', crlf: '\r\n' } as const;
