import { type Reduced, reducedBy } from './reducedInspection.ts';
import type { Severity, Standard } from './singlePlan.ts';
import { acceptedInARow, begun, notAccepted, type Standing, take, WINDOW } from './standing.ts';
import { whyOf } from './switchingWords.ts';

/** A decided lot of one part from one supplier, as far as the severity of the next one follows from it. */
export interface SwitchingLot {
  lot: string;
  run: number;
  standard: Standard;
  /** What it was inspected with. */
  severity: Severity;
  /** By its plan, whatever a person decided. */
  accepted: boolean;
  /** Nonconforming pieces found and pieces measured, of all samples of the lot. */
  nonconforming: number;
  sampled: number;
  plan: {
    aql: string;
    sampleSize: number;
    accept: number;
    reject: number;
    /** Of both samples together; null: single sampling. */
    second: { sampleSize: number; accept: number; reject: number } | null;
    /** Whether this sample would also be accepted at the next tighter AQL; null where that is not known. */
    acceptedAtNextTighterAql: boolean | null;
  };
  /** Not accepted before and offered again. */
  offeredAgain: boolean;
  /** All of its pieces were measured. */
  everyPiece?: boolean;
  /** A person set the severity for this lot and those after it. */
  override: { severity: Severity; by: string; reason: string } | null;
}

/** The severity of the next lot and what it rests on. */
export interface SwitchingState {
  severity: Severity | 'discontinued';
  /** On normal inspection, whether a person may turn to reduced, if production is steady and reduced inspection is wanted. */
  reducedAllowed: boolean;
  /** The switching score of ISO 2859-1; null under MIL-STD-105E and where inspection is not normal. */
  score: number | null;
  /** Lots accepted one after the other at the present severity, up to now. */
  consecutiveAccepted: number;
  /** Lots not accepted since tightened inspection began; 0 where it is not in force. */
  notAcceptedOnTightened: number;
  /** The last lots that count at the present severity, at most five, in order. */
  lastFive: { run: number; lot: string; accepted: boolean }[];
  /** In words, with figures and clauses. */
  why: string;
  /** Runs that brought the present severity about, and those that count towards the next change, in order. */
  behind: number[];
}

/** The limit number of MIL-STD-105E, Table VIII, for so many sample units; null: not enough of them for that AQL. */
export type LimitNumber = (sampleUnits: number, aql: string) => number | null;

/**
 * The severity of inspection after these lots: MIL-STD-105E (10 May 1989), 4.6.1 to 4.8, and ISO 2859-1:1999, 9.3 and 9.4, each lot by
 * the standard it was inspected by.
 *
 * - Inspection starts on normal (105E 4.6.1; 2859-1 9.1).
 * - Normal to tightened: two of at most five consecutive lots not accepted (105E 4.7.1; 2859-1 9.3.1). To normal again: five accepted in
 *   a row (4.7.2; 9.3.2). Discontinued: five not accepted since tightened inspection began, in a row or not (4.8; 9.4).
 * - Normal to reduced is a person's step, since steady production and the wish for it are a person's word (4.7.3; 9.3.3.1).
 *   `reducedAllowed` says whether the record allows it. 105E: the last ten lots accepted, and in all their samples together no more
 *   nonconforming pieces than the limit number; more than ten where Table VIII has none for so few units (note to the table). 2859-1:
 *   a switching score of at least 30 (9.3.3.2), kept on normal inspection only and from 0. Single sampling: Ac of 2 or more, +3 if the
 *   lot would have been accepted at the next tighter AQL; Ac of 0 or 1, +2 if it is accepted; double sampling: +3 if it is accepted by the
 *   first sample; else back to 0.
 * - Reduced to normal: a lot not accepted (4.7.4; 9.3.4), and under 105E one accepted with a count between Ac and Re (4.7.4 b).
 *   Irregular production is a person's word, by an override.
 *
 * Our reading, where the standards say nothing or little:
 * - A lot offered again never counts ("original inspection").
 * - An override sets the severity before its lot is looked at, and all counts begin anew. Nothing else ends a discontinuation, and then
 *   inspection is tightened, whatever severity the person set (4.8; 9.4).
 * - A lot inspected at another severity than the one in force does not count; but under reduced inspection one that is not accepted
 *   ends it whatever it was inspected with.
 * - A lot all of whose pieces were measured, as the tables ask of small lots, counts as accepted or not like any other; it adds nothing to
 *   the score, since no sample passed a test, and sets it to 0 when it is not accepted.
 * - Where the standard changes from lot to lot, severity and counts stay, but the score and the ten lots are of one standard only.
 * @param lots in the order they were inspected
 * @param limitNumber null where the table is not at hand: then 105E never allows reduced inspection
 */
export function switchingState(lots: readonly SwitchingLot[], limitNumber: LimitNumber | null): SwitchingState {
  const standing = begun('normal', { kind: 'start' }, []);
  let standard: Standard | null = null;
  for (const lot of lots) {
    take(standing, lot);
    if (!lot.offeredAgain) standard = lot.standard;
  }
  const { severity, counted } = standing;
  const onNormal = severity === 'normal' && standard !== null;
  const reduced = onNormal ? reducedBy(standing, standard as Standard, limitNumber) : null;
  const state = {
    severity,
    reducedAllowed: reduced?.allowed ?? false,
    score: reduced?.kind === 'score' ? reduced.score : null,
    consecutiveAccepted: acceptedInARow(counted).length,
    notAcceptedOnTightened: severity === 'tightened' || severity === 'discontinued' ? notAccepted(standing).length : 0,
    lastFive: counted.slice(-WINDOW).map(({ run, lot, accepted }) => ({ run, lot, accepted })),
    behind: runsBehind(standing, reduced),
  };
  return { ...state, why: whyOf(standing, state, standard, reduced) };
}

function runsBehind({ severity, causedBy, counted, scoredLots }: Standing, reduced: Reduced | null): number[] {
  const since = () => {
    if (severity === 'tightened') return counted;
    if (severity === 'discontinued') return [];
    const forReduced =
      reduced?.kind === 'score' ? scoredLots : reduced !== null && 'lots' in reduced ? reduced.lots : 0;
    return counted.slice(-Math.max(WINDOW, forReduced));
  };
  return [...new Set([...causedBy, ...since()].map(({ run }) => run))];
}
