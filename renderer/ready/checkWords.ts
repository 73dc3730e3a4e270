import type { Run } from '../../core/inspection/run.ts';
import type { CheckName } from '../../core/readiness/check.ts';

/** What a check of the bench is for and what it takes, in words. */
export interface CheckWords {
  /** What it shows. */
  shows: string;
  /** What the hands must do now. */
  hands: string;
  /** The verb on its button. */
  verb: string;
  /** While it is done. */
  busy: string;
}

/** The words of a check for this run: they depend on its method, its meter, and whether its bench is simulated. */
export function checkWords(run: Run, check: CheckName): CheckWords {
  const simulated = run.meter?.identity.simulated === true;
  const { method } = run.measurement;
  /** Only where hands set the meter. */
  const turned = (words: string) => (run.meter?.setByHand ? words : '');
  const hands = (real: string, onBench: string) => (simulated ? onBench : real);
  switch (check) {
    case 'meter':
      return {
        shows:
          'Shows that the right meter answers, is set as this lot needs it, reports no error, and is in calibration.',
        hands: 'No hands needed: the meter is asked.',
        verb: 'Ask the meter',
        busy: 'Asking the meter …',
      };
    case 'open-leads':
      return {
        shows: 'Shows that nothing lies across the leads: apart they read overload.',
        hands: hands('Hold the probes apart, touching nothing.', 'The bench holds the probes apart.'),
        verb: 'Read the open leads',
        busy: 'Reading the open leads …',
      };
    case 'shorted-leads':
      return {
        shows:
          method === '2-wire'
            ? 'Shows that the leads are whole and steady. What they read is the zero, subtracted from every reading.'
            : 'Shows that the leads are whole and steady, and that the sense leads are connected.',
        hands: hands(
          method === '2-wire'
            ? 'Press the probe tips firmly together and hold them still.'
            : 'Bring all four leads together at one point and hold them still.',
          'The bench holds the probes together.',
        ),
        verb: 'Read the shorted leads',
        busy: 'Reading the shorted leads …',
      };
    case 'no-voltage':
      return measuresVolts(run)
        ? {
            shows:
              'Shows that no DC voltage is found between the probes where the pieces will be. It shows nothing else.',
            hands: hands(
              `${turned('Turn the meter to DC volts. ')}Put the probes on the first piece, where it will be measured.`,
              'The bench puts the probes on a piece in the fixture.',
            ),
            verb: 'Look for a voltage',
            busy: 'Looking for a voltage …',
          }
        : {
            shows: 'This meter does not measure volts: whoever stands at the bench gives their word, recorded as that.',
            hands: 'Look for a supply, a circuit or stored energy at the fixture.',
            verb: 'Give my word',
            busy: 'Recording the word …',
          };
    case 'reference':
      return {
        shows: 'Shows that the meter reads a known value within what its accuracy and that value’s uncertainty allow.',
        hands: hands(
          `${turned('Turn the meter to resistance. ')}Put the reference resistor on the probes.`,
          'The bench puts its own reference resistor on the probes.',
        ),
        verb: 'Read the reference',
        busy: 'Reading the reference …',
      };
    case 'method':
      return {
        shows:
          'Shows that method and range fit this window: leads as a share of the tolerance, and the meter’s ranges.',
        hands: 'No hands needed: it follows from what was read.',
        verb: 'Check range and method',
        busy: 'Checking range and method …',
      };
    case 'ambient':
      return {
        shows: `Shows that the bench is between ${run.checks.ambientCelsius.lowest} and ${run.checks.ambientCelsius.highest} °C.`,
        hands: 'Take the temperature at the bench.',
        verb: 'Enter the temperature',
        busy: 'Recording the temperature …',
      };
  }
}

/** Whether no hand has to move for a check. */
export function isAutomatic(check: CheckName): boolean {
  return check === 'meter' || check === 'method';
}

/** Whether the meter of this run can look for a voltage. */
export function measuresVolts(run: Pick<Run, 'meter'>): boolean {
  return run.meter?.measures.includes('dc-volts') === true;
}

/** Whether the meter of this run can read a temperature. */
export function measuresTemperature(run: Pick<Run, 'meter'>): boolean {
  return run.meter?.measures.includes('temperature') === true;
}
