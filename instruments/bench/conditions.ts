import type { LeadState } from './leads.ts';
import type { BenchScenario } from './scenario.ts';
import type { StressName } from './stress.ts';

/** What can go wrong on the bench, or change, while it runs. */
export interface Conditions {
  leads: LeadState;
  /** A sense lead hangs free; it matters in 4-wire only. */
  senseOpen: boolean;
  /** DC volts across whatever lies in the fixture, positive or negative. */
  fixtureVolts: number;
  /** By how many millionths the meter shows too much. It moves with the drift. */
  gainErrorPpm: number;
  /** How much the gain error grows with each reading. */
  driftPpmPerReading: number;
  ambientCelsius: number;
  /** Both leads and contacts together. */
  leadOhms: number;
  /** Standard deviation of the contacts from one placing to the next. */
  contactSpreadOhms: number;
  /** Pieces are still connected to the rest of their circuit, where the scenario has one. */
  inCircuit: boolean;
  /** A person holds both tips, where the scenario has one. */
  fingers: boolean;
  /** What the pieces have been through; null for nothing. */
  stress: StressName | null;
  /** How switches in the wiring stand. */
  state: string;
}

/** All that can be made good again; a treatment and switches cannot, and leads are what they are. */
export const HEALTHY: Readonly<Omit<Conditions, 'stress' | 'state' | 'leadOhms' | 'contactSpreadOhms'>> = {
  leads: 'good',
  senseOpen: false,
  fixtureVolts: 0,
  gainErrorPpm: 0,
  driftPpmPerReading: 0,
  ambientCelsius: 23,
  inCircuit: false,
  fingers: false,
};

/** The conditions a scenario begins with. */
export function conditionsOf(scenario: BenchScenario): Conditions {
  const { leads, fixtureVolts, ambientCelsius, stress, meter, leadOhms, contactSpreadOhms } = scenario;
  const { gainErrorPpm, driftPpmPerReading } = meter;
  return {
    leads: leads.state,
    senseOpen: leads.senseOpen,
    fixtureVolts,
    gainErrorPpm,
    driftPpmPerReading,
    ambientCelsius,
    leadOhms,
    contactSpreadOhms,
    inCircuit: scenario.circuit !== null,
    fingers: scenario.fingersOhms !== null,
    stress,
    state: '',
  };
}
