import type { MeterFacts } from '../inspection/event.ts';
import type { Run } from '../inspection/run.ts';
import type { AtTheBench } from '../inspection/worth.ts';
import type { DecimalText } from '../quantity/decimal.ts';
import type { Found, Outcome } from './check.ts';

/** What of a run a check is judged against. */
export type Bench = AtTheBench &
  Pick<Run, 'checks' | 'overridden' | 'decision' | 'part' | 'readings' | 'lastGood' | 'references'> & {
    meter: MeterFacts;
  };

/** How a check came out, and why in words and figures; `zeroOhms` is the zero it gives, null where it gives none. */
export interface Judged {
  outcome: Outcome;
  why: string;
  zeroOhms: DecimalText | null;
}

export function passed(why: string, zeroOhms: DecimalText | null = null): Judged {
  return { outcome: 'passed', why, zeroOhms };
}

/** @param toDo what to do about it, a sentence */
export function failed(why: string, toDo: string): Judged {
  return { outcome: 'failed', why: `${why}. ${toDo}`, zeroOhms: null };
}

/** Those of what was shown that are of one kind. */
export function shownAs(found: readonly Found[], what: Found['what']): Found[] {
  return found.filter((one) => one.what === what);
}

/** Over how many readings something was judged, in words. */
export function counted(readings: number): string {
  return readings === 1 ? '1 reading' : `${readings} readings`;
}
