/**
 * What has to be confirmed before the first reading, each by itself, by whoever stands there. The usual cautions (common practice);
 * local rules and licensed practice go before them, and nothing here says that anything is safe to touch.
 */
export const CONTINUITY_CAUTIONS = [
  'The wiring is de-energised and isolated from every supply, and cannot be switched on again while it is measured.',
  'Stored energy (capacitors, batteries, long cables) was discharged before anything is touched or measured.',
  'Nothing is connected that the test current could start or harm, and nothing parallel that could feign a connection.',
  'Local rules and licensed practice go before anything this program says.',
  'A verdict says how a pair reads to its limit; it never says that something is safe to touch or to switch on.',
] as const;

/** What a continuity run with a bench meter does not show, in sentences; on the screen and on the certificate. */
export const CONTINUITY_BOUNDS = [
  'A two-wire reading below about 0.5 ohm is mostly leads and contacts. Contact resistance and bonding are measured with a milliohm or microhm meter that sends enough current.',
  'A meter sends little current at a low voltage: a single strand, a burnt contact or a film that breaks down only under load can read closed.',
  'Open at the voltage of a meter is no proof of insulation. That is measured with an insulation tester at its test voltage, by whoever may, under local rules.',
  'What was measured holds for the moment it was measured, with switches as they stood; a fault that comes and goes may not have shown.',
] as const;
