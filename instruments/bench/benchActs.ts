import type { PracticeAct } from '../../core/practice/practiceAct.ts';
import type { Conditions } from './conditions.ts';

/** How an act is called in `BENCh:ACT`, and what it makes of the bench. */
export const BENCH_ACTS: Record<PracticeAct, { word: string; conditions: Partial<Conditions> }> = {
  'lift one end': { word: 'LIFT', conditions: { inCircuit: false } },
  'take the hands off the tips': { word: 'CLIPs', conditions: { fingers: false } },
  'switch off and discharge': { word: 'DISCharge', conditions: { fixtureVolts: 0 } },
  'change the leads': { word: 'LEADs', conditions: { leads: 'good', senseOpen: false } },
  'let the meter warm up': { word: 'WARM', conditions: { gainErrorPpm: 0, driftPpmPerReading: 0 } },
};
