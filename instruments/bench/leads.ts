import { normalAt, uniformAt } from './random.ts';

/**
 * `broken`: no current flows, wherever the probes are. `poor`: a contact of several ohms, steady. `unsteady`: a contact
 * that is different at each reading. `shorted`: the two leads touch before the tips do.
 */
export const LEAD_STATES = ['good', 'broken', 'poor', 'unsteady', 'shorted'] as const;
export type LeadState = (typeof LEAD_STATES)[number];

export interface Leads {
  state: LeadState;
  senseOpen: boolean;
  /** Both leads and good contacts together. */
  ohms: number;
}

const CONTACT_KEY = 4;
const PLACEMENT_KEY = 10;
const POOR_CONTACT_OHMS = 5;

/**
 * Resistance a bad contact adds, in ohms. An unsteady one goes back and forth between 0.02 to 0.1 Ω and 0.7 to 3 Ω,
 * so that neighbouring readings always differ by at least 0.6 Ω.
 * @param turn how many readings the meter took before
 */
export function contactOhms(state: LeadState, seed: number, turn: number): number {
  if (state === 'poor') return POOR_CONTACT_OHMS;
  if (state !== 'unsteady') return 0;
  const [least, most] = turn % 2 === 0 ? [0.02, 0.1] : [0.7, 3];
  return least + (most - least) * uniformAt(seed, CONTACT_KEY, turn);
}

/**
 * By how much good contacts differ from their mean when the probes are put on a place once more, in ohms.
 * @param spreadOhms standard deviation; @param earlier how often they were put there before
 */
export function placementOhms(spreadOhms: number, seed: number, place: number, earlier: number): number {
  return spreadOhms * Math.max(-3, Math.min(3, normalAt(seed, PLACEMENT_KEY, place, earlier)));
}

/**
 * Resistance the meter sees through its leads, in ohms; null where no current flows. In 4-wire neither leads nor
 * contacts count, unless a sense lead hangs free: inside meters the sense terminals are commonly tied to the others
 * through resistors, so that the reading is then about what 2-wire gives.
 * @param between resistance between the tips, null for none
 */
export function seenThroughLeads(
  between: number | null,
  wires: 2 | 4,
  leads: Leads,
  seed: number,
  turn: number,
): number | null {
  if (leads.state === 'broken') return null;
  const path = leads.state === 'shorted' ? 0 : between;
  if (path === null) return null;
  return wires === 4 && !leads.senseOpen ? path : path + leads.ohms + contactOhms(leads.state, seed, turn);
}
