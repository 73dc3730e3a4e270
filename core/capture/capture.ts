import { type Agreement, agreementWith, farFactor, HAND_OHMS, isShort, NO_AGREEMENT } from './agreement.ts';
import type { CaptureSetting } from './setting.ts';
import { lifted, NO_TAPS, type Taps, touched, wasShortedPiece } from './taps.ts';

/** One reading as it comes from the meter. */
export interface LiveReading {
  /** Of a clock that only goes forward. */
  atMilliseconds: number;
  /** As the meter shows it; null for its overload. */
  ohms: number | null;
  /** When it was begun, by the same clock, where it takes longer than others: that it came late is no silence then. */
  begunMilliseconds?: number;
}

/** `captured` waits for the release; with `heldOhms` null nothing was captured, and the leads were not seen open yet. */
export type CapturePhase = 'armed' | 'contact' | 'settling' | 'captured' | 'open-said';

/**
 * `unsteady`: a contact does not settle. `changed-without-release`: after a capture the readings settled elsewhere, and the
 * leads were not seen open for long enough; they do not count. `lifted-too-soon`: something was on the probes, but not for long enough.
 * `same-again`: it reads as the piece before, and the leads were open so briefly that it may be that piece, slipped; it does not
 * count. `open-conducts`: something conducts so soon after a piece was captured as open that it may be that piece.
 */
export type TroubleWhy = 'unsteady' | 'changed-without-release' | 'lifted-too-soon' | 'same-again' | 'open-conducts';

/** What a reading brought about. `captured`: it is the reading that counts. `released` says whether a piece had counted. */
export type Outcome =
  | null
  | { kind: 'captured' }
  | { kind: 'captured-open' }
  | { kind: 'contact' }
  | { kind: 'released'; captured: boolean }
  | { kind: 'open-said' }
  | { kind: 'trouble'; why: TroubleWhy };

/** How far capture has come. What follows `heldOhms` is for this file alone. */
export interface Capture {
  phase: CapturePhase;
  /** How many readings agree so far, of `settledReadings`. */
  steady: number;
  /** What was captured and is still on the probes; null where nothing is. */
  heldOhms: number | null;
  /** Whether the leads were seen open since the last capture, and since the beginning. */
  released: boolean;
  /** Whether what is held may have been changed unseen: the leads were open too briefly for a release, or nothing was read. */
  mayBeChanged: boolean;
  lastAt: number | null;
  /** Readings that were open, one after the other up to now, and since when all of them were overload. */
  open: { since: number; readings: number; overloadSince: number | null } | null;
  /** Since when something has conducted without an open reading. */
  contactSince: number | null;
  agreement: Agreement;
  /** The piece that was captured last; `ohms` null where it was open. */
  last: { ohms: number | null; at: number } | null;
  /**
   * The piece that is not captured yet: since when it has been touched, for how long the leads were seen open before that, and
   * what was said or seen of it.
   */
  piece: { since: number; apartMilliseconds: number; toldUnsteady: boolean; wasSteady: boolean } | null;
  saidOpenAt: number | null;
  taps: Taps;
}

/** The state at the beginning: nothing counts before the leads were seen open. */
export const ARMED: Capture = {
  phase: 'armed',
  steady: 0,
  heldOhms: null,
  released: false,
  mayBeChanged: false,
  lastAt: null,
  open: null,
  contactSince: null,
  agreement: NO_AGREEMENT,
  last: null,
  piece: null,
  saidOpenAt: null,
  taps: NO_TAPS,
};

/** Open readings that make an end of a contact certain: a single one may be a bounce. */
const FEWEST_OPEN = 2;
/** Nobody is at the next piece so soon after a piece was captured as open: what conducts then may be that piece. Our choice. */
export const HEARD_MILLISECONDS = 300;
/** What reads so many times as much as the piece that was captured is not that piece. */
const NOT_THE_PIECE = 10;

type Taken = { capture: Capture; outcome: Outcome };

/**
 * Takes one more reading: leads open, contact, settling, captured, release, armed again.
 *
 * A piece counts once: when enough readings agree, for long enough, none of them open and none of them still on its way; and
 * again only after the leads were open for the time of the release. What reads the same as the piece before counts after a longer
 * time only, since it may have slipped. Two taps of the tips, or `sayOpen`, say that the piece is open: then overload for the
 * dwell counts, unless something conducts, which then counts as it reads. One tap more, after a pause, takes the sign back.
 */
export function take(capture: Capture, reading: LiveReading, setting: CaptureSetting): Taken {
  const { atMilliseconds: at, ohms } = reading;
  const now = afterSilence(capture, reading, setting);
  const taken =
    ohms === null || isOffThePiece(now, ohms)
      ? seenOpen(now, at, ohms === null, setting)
      : seenConducting(now, at, ohms, setting);
  return taken.outcome === null ? shortedInHaste(taken.capture, at, setting) : taken;
}

/**
 * Somebody said, by key or foot switch, that the piece on the probes is open. Says nothing of a piece that was captured and
 * still conducts.
 */
export function sayOpen(capture: Capture, atMilliseconds: number): Capture {
  const { phase, open, saidOpenAt, piece } = capture;
  if (saidOpenAt !== null || (phase === 'captured' && open === null)) return capture;
  const waits = phase === 'captured' || piece !== null;
  return { ...capture, phase: waits ? phase : 'open-said', saidOpenAt: atMilliseconds, taps: NO_TAPS };
}

/** What was captured last did not count after all: nothing that comes can be that piece again. */
export function notCounted(capture: Capture): Capture {
  return { ...capture, last: null };
}

/** Readings far apart prove nothing together: what was seen before the silence is no evidence for what comes after it. */
function afterSilence(capture: Capture, reading: LiveReading, { silenceMilliseconds }: CaptureSetting): Capture {
  const { lastAt } = capture;
  const { atMilliseconds: at, begunMilliseconds = at } = reading;
  const passed = lastAt === null ? 0 : begunMilliseconds - lastAt;
  if (passed >= 0 && passed <= silenceMilliseconds) return { ...capture, lastAt: at };
  const taps = { ...capture.taps, touch: null };
  const nothing = { open: null, contactSince: null, steady: 0, agreement: NO_AGREEMENT };
  return { ...capture, ...nothing, lastAt: at, mayBeChanged: true, taps };
}

/** What a finger or a film shows after the piece has left the tips: as good as open. */
function isOffThePiece({ heldOhms }: Capture, ohms: number): boolean {
  return heldOhms !== null && ohms >= Math.max(HAND_OHMS, NOT_THE_PIECE * Math.abs(heldOhms));
}

function seenOpen(before: Capture, at: number, isOverload: boolean, setting: CaptureSetting): Taken {
  const open = {
    since: before.open?.since ?? at,
    readings: (before.open?.readings ?? 0) + 1,
    overloadSince: isOverload ? (before.open?.overloadSince ?? at) : null,
  };
  const capture = { ...before, open, contactSince: null, steady: 0, agreement: NO_AGREEMENT };
  const isRelease = open.readings >= FEWEST_OPEN && at - open.since >= setting.releaseMilliseconds;
  if (!capture.released) {
    return isRelease ? released(capture) : { capture: { ...capture, mayBeChanged: true }, outcome: null };
  }
  if (open.readings < FEWEST_OPEN) return { capture: offForNow(capture), outcome: null };
  const { taps, count } = lifted(capture.taps, at, setting);
  const now = { ...offForNow(capture), taps };
  const isPause = count > 0 && at - open.since >= setting.tapPauseMilliseconds;
  if (isPause && capture.saidOpenAt !== null) return signed(now, null);
  if (isPause && count > 1) return signed(now, open.since);
  if (now.piece !== null) return isRelease ? offUncaptured(now, now.piece) : { capture: now, outcome: null };
  const { saidOpenAt } = now;
  return saidOpenAt !== null &&
    open.overloadSince !== null &&
    at - Math.max(open.overloadSince, saidOpenAt) >= setting.openDwellMilliseconds
    ? {
        capture: { ...now, phase: 'armed', saidOpenAt: null, last: { ohms: null, at } },
        outcome: { kind: 'captured-open' },
      }
    : { capture: now, outcome: null };
}

function offForNow(capture: Capture): Capture {
  return capture.piece === null ? capture : { ...capture, phase: 'contact' };
}

/** The leads are open again after a capture, or for the first time. */
function released(capture: Capture): Taken {
  const { phase, heldOhms } = capture;
  return {
    capture: { ...capture, phase: restingPhase(capture), heldOhms: null, released: true },
    outcome: phase === 'captured' ? { kind: 'released', captured: heldOhms !== null } : null,
  };
}

function restingPhase({ saidOpenAt }: Capture): CapturePhase {
  return saidOpenAt === null ? 'armed' : 'open-said';
}

/** Something that was not captured is off the probes. */
function offUncaptured(before: Capture, { wasSteady }: NonNullable<Capture['piece']>): Taken {
  return {
    capture: { ...before, phase: restingPhase(before), piece: null },
    outcome: wasSteady ? { kind: 'trouble', why: 'lifted-too-soon' } : { kind: 'released', captured: false },
  };
}

/** Taps said that the piece is open, or took it back (`saidOpenAt` null). */
function signed(before: Capture, saidOpenAt: number | null): Taken {
  const capture: Capture = { ...before, piece: null, saidOpenAt, taps: NO_TAPS };
  return {
    capture: { ...capture, phase: restingPhase(capture) },
    outcome: saidOpenAt === null ? { kind: 'released', captured: false } : { kind: 'open-said' },
  };
}

function seenConducting(before: Capture, at: number, ohms: number, setting: CaptureSetting): Taken {
  const contactSince = before.contactSince ?? at;
  const agreement = agreementWith(before.agreement, { at, ohms }, contactSince, setting);
  const capture = { ...before, open: null, contactSince, agreement };
  const apartMilliseconds = before.open === null ? Number.POSITIVE_INFINITY : at - before.open.since;
  if (!capture.released) return onProbesAlready(capture, ohms, setting);
  const taps = touched(before.taps, at, ohms, agreement.readings.length, setting);
  return capture.piece === null
    ? {
        capture: {
          ...capture,
          phase: 'contact',
          steady: agreement.steady,
          piece: { since: at, apartMilliseconds, toldUnsteady: false, wasSteady: false },
          taps,
        },
        outcome: { kind: 'contact' },
      }
    : settling({ ...capture, taps }, capture.piece, at, ohms, setting);
}

/** Why what has settled may be the piece that was captured before; null where it is another one for certain. */
function maybeBefore(
  { last }: Capture,
  { since, apartMilliseconds }: NonNullable<Capture['piece']>,
  ohms: number,
  setting: CaptureSetting,
): TroubleWhy | null {
  if (last === null) return null;
  if (last.ohms === null) return since - last.at < HEARD_MILLISECONDS ? 'open-conducts' : null;
  const { doubtMilliseconds, sameOhms } = setting;
  const isSame = Math.abs(ohms - last.ohms) <= sameOhms * farFactor(ohms, setting);
  return isSame && apartMilliseconds < doubtMilliseconds ? 'same-again' : null;
}

/** A piece that was captured, or was on the probes from the beginning, is still there. */
function onProbesAlready(before: Capture, ohms: number, setting: CaptureSetting): Taken {
  const { heldOhms, agreement } = before;
  const capture: Capture = { ...before, phase: 'captured', steady: heldOhms === null ? 0 : setting.settledReadings };
  if (heldOhms === null || !agreement.settled) return { capture, outcome: null };
  const most = (before.mayBeChanged ? setting.driftOhms : setting.changeOhms) * farFactor(ohms, setting);
  const settled = { ...capture, mayBeChanged: false };
  if (!(Math.abs(ohms - heldOhms) > most)) return { capture: settled, outcome: null };
  return { capture: { ...settled, heldOhms: ohms }, outcome: { kind: 'trouble', why: 'changed-without-release' } };
}

function settling(
  before: Capture,
  piece: NonNullable<Capture['piece']>,
  at: number,
  ohms: number,
  setting: CaptureSetting,
): Taken {
  const { agreement } = before;
  const { steady } = agreement;
  if (agreement.settled) {
    const why = maybeBefore(before, piece, ohms, setting);
    const held = heldNow(before, ohms, setting);
    if (why !== null) return { capture: held, outcome: { kind: 'trouble', why } };
    return { capture: { ...held, last: { ohms, at } }, outcome: { kind: 'captured' } };
  }
  const isUnsteady = at - piece.since > setting.unsteadyMilliseconds;
  const wasSteady = piece.wasSteady || (agreement.readings.length > 1 && !isShort(ohms, setting));
  const capture: Capture = {
    ...before,
    phase: agreement.readings.length > 1 ? 'settling' : 'contact',
    steady,
    piece: { ...piece, wasSteady, toldUnsteady: isUnsteady },
  };
  return { capture, outcome: isUnsteady && !piece.toldUnsteady ? { kind: 'trouble', why: 'unsteady' } : null };
}

/** What has settled is held from now on, until it is lifted. */
function heldNow(before: Capture, ohms: number, setting: CaptureSetting): Capture {
  // A shorted piece that was put on again makes up for the one that was lifted too soon.
  const doubtful = isShort(ohms, setting) ? null : before.taps.doubtful;
  return {
    ...before,
    phase: 'captured',
    steady: setting.settledReadings,
    heldOhms: ohms,
    released: false,
    mayBeChanged: false,
    piece: null,
    saidOpenAt: null,
    taps: { ...NO_TAPS, doubtful },
  };
}

/** Tells of a steady tap that stayed the only one. */
function shortedInHaste(capture: Capture, at: number, setting: CaptureSetting): Taken {
  if (!wasShortedPiece(capture.taps, at, setting)) return { capture, outcome: null };
  const taps = { ...capture.taps, doubtful: null };
  return { capture: { ...capture, taps }, outcome: { kind: 'trouble', why: 'lifted-too-soon' } };
}
