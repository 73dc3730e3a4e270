import { lotCauses } from '../../../core/diagnosis/lotCauses.ts';
import type { LotExplained, OddLot } from '../../../core/diagnosis/oddLot.ts';
import { notToldApart } from '../../../core/diagnosis/readingCauses.ts';
import { parseOhms } from '../../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../../core/window/parseTolerance.ts';
import { windowOf } from '../../../core/window/window.ts';
import { type BlindCause, type BlindLot, blindLot } from './blind/blindLot.ts';

/** What of a lot of the blind set the diagnosis says, and whether that is right. */
export interface Tried {
  seed: number;
  cause: BlindCause;
  decidable: boolean;
  /** The first cause, `none`, or `can't tell` where the first ones are not told apart. */
  said: string;
  found: readonly LotExplained[];
  lot: BlindLot;
}

/** By what names the diagnosis calls a cause of the blind set. */
export const CALLED: Record<BlindCause, readonly string[]> = {
  good: ['none'],
  'off its value': ['off its value'],
  'trend along the reel': ['trend along the reel'],
  'mixed reel': ['mixed reel'],
  'sorted lot': ['sorted lot'],
  'spliced reel': ['spliced reel'],
  'single strays': ['strays of another value'],
  'another value throughout': ['another preferred value'],
  'decade slip throughout': ['decade slip'],
  'bands from the other end throughout': ['bands from the other end'],
  'added resistance': ['added lead or contact resistance'],
  'a path beside each piece': ['a path beside each piece'],
  'fingers on the tips': ['fingers on the tips'],
  'unstable contact': ['unstable contact'],
  warming: ['warming'],
  'meter drift': ['meter drift'],
  'opens from a lead': ['broken lead'],
  'shorts throughout': ['shorts throughout'],
  'source connected': ['source connected'],
  'wrong range': ['wrong range or function'],
};

export function oddLotOfBlind(lot: BlindLot): OddLot {
  const tolerance = parseTolerance(`${lot.tolerancePercent} %`);
  return {
    window: windowOf(parseOhms(String(lot.nominalOhms)), tolerance),
    tolerance,
    method: lot.method,
    expandedOhms: lot.expandedOhms,
    resolutionOhms: lot.resolutionOhms,
    readings: lot.readings.map((reading) => ({ ...reading, counts: true })),
    references: lot.references.map((reference) => ({ ...reference, name: 'R', failed: false })),
  };
}

export function tryBlind(seed: number): Tried {
  const lot = blindLot(seed);
  const found = lotCauses(oddLotOfBlind(lot));
  const alike = notToldApart(found);
  const said = alike > 1 ? 'can’t tell' : (found[0]?.cause ?? 'none');
  return { seed, cause: lot.truth.cause, decidable: lot.truth.decidable, said, found, lot };
}

/** How often each cause was said of each true one, as lines of a table. */
export function confusionTable(tried: readonly Tried[]): string[] {
  const causes = [...new Set(tried.map(({ cause }) => cause))].sort();
  return causes.map((cause) => {
    const of = tried.filter((one) => one.cause === cause);
    const said = new Map<string, number>();
    for (const one of of) said.set(one.said, (said.get(one.said) ?? 0) + 1);
    const parts = [...said].sort((a, b) => b[1] - a[1]).map(([what, times]) => `${what} ${times}`);
    return `${cause} (${of.length}): ${parts.join(', ')}`;
  });
}
