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
  /** What the pieces have been through; null for nothing. */
  stress: StressName | null;
  /** How switches in the wiring stand. */
  state: string;
}

/** All that can be made good again; a treatment and switches cannot. */
export const HEALTHY: Readonly<Omit<Conditions, 'stress' | 'state'>> = {
  leads: 'good',
  senseOpen: false,
  fixtureVolts: 0,
  gainErrorPpm: 0,
  driftPpmPerReading: 0,
  ambientCelsius: 23,
};

/** The conditions a scenario begins with. */
export function conditionsOf({ leads, fixtureVolts, ambientCelsius, stress, meter }: BenchScenario): Conditions {
  const { gainErrorPpm, driftPpmPerReading } = meter;
  return {
    leads: leads.state,
    senseOpen: leads.senseOpen,
    fixtureVolts,
    gainErrorPpm,
    driftPpmPerReading,
    ambientCelsius,
    stress,
    state: '',
  };
}
