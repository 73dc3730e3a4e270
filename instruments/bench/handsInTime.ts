import type { Touch, Window } from './contact.ts';
import type { Place } from './place.ts';
import { uniformAt } from './random.ts';
import type { PairPlace } from './wiring.ts';

/** What the hands do by themselves: nothing; piece after piece; pairs of terminals as they are told; the tips against each other again and again. */
export type Work = 'rest' | 'pieces' | 'pairs' | 'taps';

/** Two terminals that are to be touched; of those that are to be open whoever does it says so by two taps of the tips. */
export interface PairToTouch {
  place: PairPlace;
  isOpen: boolean;
}

/** What the hands see and know while they work. */
export interface Sight {
  /** How long one reading takes, in milliseconds. */
  readingMilliseconds: number;
  /** How long a piece takes to settle, in milliseconds. */
  settlingMilliseconds: (place: Place) => number;
  /** The meter waits for its trigger: the hands press it, once for each piece. */
  pressing: boolean;
}

/** Something the hands are about to do. */
interface Step {
  at: number;
  act: (at: number) => void;
}

const BOUNCE_KEY = 20;
const SLIP_KEY = 21;

/** Readings with a value that make whoever holds a piece take the next one. */
const READINGS_SHOWN = 5;
/** How long somebody waits for a value before they take the piece for open, in milliseconds and in readings. */
const PATIENCE_MILLISECONDS = 4000;
const PATIENCE_READINGS = 10;
/** How long an open piece is held after the sign of two taps. */
const OPEN_MILLISECONDS = 2500;
const OPEN_READINGS = 12;
const TAP_MILLISECONDS = 150;
const TAP_READINGS = 2.5;
const SHORTEST_GAP_READINGS = 5;
/** A piece that is asked for again is lifted for so long, as whoever is told that it did not count does. */
const AGAIN_MILLISECONDS = 600;
/** What bounces lasts a few milliseconds (common practice). */
const BOUNCES_MOST = 3;
const BOUNCE_MILLISECONDS = 4;
/** A tip that slips is back sooner than a hand takes the next piece. */
const SLIP_MILLISECONDS = [20, 80] as const;
const LONG_TAP_MILLISECONDS = 400;
const LOOK_AGAIN_READINGS = 2;
const KEPT_MILLISECONDS = 5000;
/** A pair is held until whoever listens has heard that it was taken. */
const SHORTEST_HOLD_OF_PAIR_MILLISECONDS = 900;
/** Somebody who waits to be told the next pair looks up so often. */
const LOOK_UP_MILLISECONDS = 20;
/** After the sign the tips are put on the terminals and held there. */
const OPEN_PAIR_MILLISECONDS = 3200;
/** The place where the tips touch each other. */
const TIPS = 'SHOR';

/**
 * Two hands with a probe each, by the clock of the bench: they put piece after piece on the probes, as quickly as they were
 * told. Contact bounces as it is made, now and then a tip slips, and a piece is held until the meter has shown a few readings;
 * where it shows none for seconds, the tips are tapped against each other twice, which says that the piece is open, and the
 * piece is held once more. They look at the meter and at nothing else. What they do follows from the seed.
 */
export class HandsInTime {
  readonly #seed: number;
  readonly #shareSlips: number;
  readonly #sight: () => Sight;
  #work: Work = 'rest';
  #touches: Touch[] = [];
  #next: Step | null = null;
  #piece = 0;
  /** Said from outside; else it is the one behind the present one. */
  #nextPiece: number | null = null;
  /** The pair that is held, and the one that was said to be next. */
  #pair: PairToTouch | null = null;
  #nextPair: PairToTouch | null = null;
  #periodMilliseconds = 1000;
  #shown = 0;
  #heldSince = 0;
  #pressAt = Number.POSITIVE_INFINITY;
  /** How often contact was made; so that each bounces in its own way. */
  #contacts = 0;

  constructor(seed: number, shareSlips: number, sight: () => Sight) {
    this.#seed = seed;
    this.#shareSlips = shareSlips;
    this.#sight = sight;
  }

  get work(): Work {
    return this.#work;
  }

  /** The piece that is held, or was held last; 0 before the first. */
  get piece(): number {
    return this.#piece;
  }

  /** Begins with a piece, so many a second as far as the meter lets them. */
  takePieces(first: number, piecesPerSecond: number, now: number): void {
    this.#begin('pieces');
    this.#nextPiece = first;
    this.#periodMilliseconds = 1000 / piecesPerSecond;
    this.#next = { at: now + this.#gapMilliseconds, act: (at) => this.#takeNext(at) };
  }

  /** Touches pairs of terminals as they are said, beginning with this one. */
  takePairs(first: PairToTouch, piecesPerSecond: number, now: number): void {
    this.#begin('pairs');
    this.#nextPair = first;
    this.#periodMilliseconds = 1000 / piecesPerSecond;
    this.#next = { at: now + this.#gapMilliseconds, act: (at) => this.#takeNextPair(at) };
  }

  /** Which pair is touched after the one that is held. */
  sayPair(pair: PairToTouch): undefined {
    this.#nextPair = pair;
  }

  /** Taps the tips against each other about once a second. */
  tap(now: number): void {
    this.#begin('taps');
    this.#next = { at: now + LONG_TAP_MILLISECONDS, act: (at) => this.#tapOnce(at) };
  }

  rest(): void {
    this.#begin('rest');
  }

  /** Which piece is taken after the one that is held. */
  say(nextPiece: number): undefined {
    this.#nextPiece = nextPiece;
  }

  /** The meter has shown a reading. */
  see(hasValue: boolean): void {
    if (hasValue || this.#sight().pressing) this.#shown++;
  }

  /** Whether the trigger is pressed by this moment; each press is told once. */
  presses(now: number): boolean {
    this.#moveTo(now);
    if (now < this.#pressAt) return false;
    this.#pressAt = Number.POSITIVE_INFINITY;
    return true;
  }

  /** What was touched within a window that is over. */
  touchesIn({ from, until }: Window): readonly Touch[] {
    this.#moveTo(until);
    return this.#touches.filter((touch) => touch.from < until && touch.until > from);
  }

  #begin(work: Work): void {
    this.#work = work;
    this.#touches = [];
    this.#next = null;
    this.#nextPiece = null;
    this.#nextPair = null;
    this.#pair = null;
    this.#pressAt = Number.POSITIVE_INFINITY;
  }

  #moveTo(now: number): void {
    while (this.#next && this.#next.at <= now) {
      const { at, act } = this.#next;
      this.#next = null;
      act(at);
    }
    this.#touches = this.#touches.filter(({ until }) => until > now - KEPT_MILLISECONDS);
  }

  #takeNext(at: number): void {
    this.#piece = this.#nextPiece ?? this.#piece + 1;
    this.#nextPiece = null;
    this.#hold(at, this.#periodMilliseconds / 2);
  }

  /** Nothing is touched before somebody says what is next. */
  #takeNextPair(at: number): void {
    const pair = this.#nextPair;
    if (pair === null) {
      this.#next = { at: at + LOOK_UP_MILLISECONDS, act: (now) => this.#takeNextPair(now) };
      return;
    }
    this.#pair = pair;
    this.#nextPair = null;
    if (pair.isOpen) this.#sayOpen(at);
    else this.#hold(at, Math.max(this.#periodMilliseconds / 2, SHORTEST_HOLD_OF_PAIR_MILLISECONDS));
  }

  /** What is touched now. */
  get #touched(): Place {
    return this.#pair?.place ?? this.#piece;
  }

  #hold(at: number, forMilliseconds: number): void {
    this.#shown = 0;
    this.#heldSince = at;
    this.#contact(this.#touched, at);
    const hold = forMilliseconds + this.#sight().settlingMilliseconds(this.#touched);
    this.#pressAt = at + 0.7 * hold;
    const slips = this.#uniform(SLIP_KEY, 0) < this.#shareSlips;
    if (slips)
      this.#next = { at: at + hold * (0.3 + 0.6 * this.#uniform(SLIP_KEY, 1)), act: (now) => this.#slip(now, hold) };
    else this.#next = { at: at + hold, act: (now) => this.#look(now) };
  }

  /** A tip loses the piece for a moment; whoever holds it sees that, and holds it as long again. */
  #slip(at: number, hold: number): void {
    const [least, most] = SLIP_MILLISECONDS;
    const back = at + least + (most - least) * this.#uniform(SLIP_KEY, 2);
    this.#open(at);
    this.#contact(this.#touched, back);
    this.#shown = 0;
    this.#next = { at: back + hold, act: (now) => this.#look(now) };
  }

  #look(at: number): void {
    const { readingMilliseconds, pressing } = this.#sight();
    if (this.#shown >= (pressing ? 1 : READINGS_SHOWN)) {
      this.#putAway(at);
    } else if (at - this.#heldSince < PATIENCE_MILLISECONDS + PATIENCE_READINGS * readingMilliseconds) {
      this.#next = { at: at + LOOK_AGAIN_READINGS * readingMilliseconds, act: (now) => this.#look(now) };
    } else {
      this.#sayOpen(at);
    }
  }

  #sayOpen(at: number): void {
    const { readingMilliseconds } = this.#sight();
    const tap = Math.max(TAP_MILLISECONDS, TAP_READINGS * readingMilliseconds);
    this.#open(at);
    this.#touches.push({ place: TIPS, from: at + tap, until: at + 2 * tap });
    this.#touches.push({ place: TIPS, from: at + 3 * tap, until: at + 4 * tap });
    this.#contact(this.#touched, at + 5 * tap);
    const hold = (this.#pair ? OPEN_PAIR_MILLISECONDS : OPEN_MILLISECONDS) + OPEN_READINGS * readingMilliseconds;
    this.#next = { at: at + 5 * tap + hold, act: (now) => this.#putAway(now) };
  }

  #putAway(at: number): void {
    this.#open(at);
    if (this.#work === 'pairs') {
      // From terminal to terminal takes longer than from piece to piece.
      const gap = Math.max(this.#gapMilliseconds, AGAIN_MILLISECONDS);
      this.#next = { at: at + gap, act: (now) => this.#takeNextPair(now) };
      return;
    }
    const gap = Math.max(this.#gapMilliseconds, this.#nextPiece === this.#piece ? AGAIN_MILLISECONDS : 0);
    this.#next = { at: at + gap, act: (now) => this.#takeNext(now) };
  }

  #tapOnce(at: number): void {
    this.#contact(TIPS, at);
    this.#next = {
      at: at + LONG_TAP_MILLISECONDS,
      act: (now) => {
        this.#open(now);
        this.#next = { at: now + LONG_TAP_MILLISECONDS, act: (later) => this.#tapOnce(later) };
      },
    };
  }

  /** Contact is made and lost a few times before it lasts. */
  #contact(place: Place, at: number): void {
    this.#contacts++;
    let from = at;
    const bounces = Math.floor(this.#uniform(BOUNCE_KEY, 0) * (BOUNCES_MOST + 1));
    for (let bounce = 1; bounce <= bounces; bounce++) {
      const until = from + BOUNCE_MILLISECONDS * this.#uniform(BOUNCE_KEY, bounce, 0);
      this.#touches.push({ place, from, until });
      from = until + BOUNCE_MILLISECONDS * this.#uniform(BOUNCE_KEY, bounce, 1);
    }
    this.#touches.push({ place, from, until: Number.POSITIVE_INFINITY });
  }

  #open(at: number): void {
    for (const touch of this.#touches) touch.until = Math.min(touch.until, at);
    this.#touches = this.#touches.filter(({ from, until }) => until > from);
  }

  get #gapMilliseconds(): number {
    return Math.max(this.#periodMilliseconds / 2, SHORTEST_GAP_READINGS * this.#sight().readingMilliseconds);
  }

  #uniform(key: number, ...draw: number[]): number {
    return uniformAt(this.#seed, key, this.#contacts, this.#piece, ...draw);
  }
}
