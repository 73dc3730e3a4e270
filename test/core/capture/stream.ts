import { noiseOhms, readingsOf, type StreamReading } from './circuit.ts';
import { Dice } from './dice.ts';
import { apartFor, Hands, LONGEST_BOUNCE } from './hands.ts';
import type { Kind } from './kinds.ts';

/** What must come out: one capture in this time, of this value; null for a piece that was said to be open. */
export interface Expected {
  what: What;
  from: number;
  to: number;
  ohms: number | null;
  /** Standard deviation of a reading of it: the meter's noise and the hand's. */
  deviationOhms: number;
}

/** A stream of readings, when somebody said `open` by key, and what must come out. */
export interface Stream {
  readings: readonly StreamReading[];
  says: readonly number[];
  expected: readonly Expected[];
  /** When something touched the tips that is no piece. */
  nuisances: readonly { from: number; to: number }[];
}

export type What =
  | 'piece'
  | 'slipped'
  | 'slipped-off'
  | 'pinched'
  | 'after-fingers'
  | 'far-low'
  | 'far-high'
  | 'shorted'
  | 'open-by-taps'
  | 'open-by-key'
  | 'meter-busy';

/** The release a stream is made for, in milliseconds. */
const RELEASE = 150;
/** From here on fingers matter to what is read. */
const NEAR_FINGERS = 5e4;
/** A window that begins below it leaves no room for the sign by taps. */
const ROOM_FOR_TAPS = 20;
/** On a range on which open leads charge for longer, nobody signs by taps. */
const SLOW_FARAD_OHMS = 0.2;
/** What may be the tips' own resistance is held for longer, where pieces are not that small themselves. */
const LIKE_TIPS = 2;
/** How much more, in milliseconds for each ohm, because high values charge and discharge slowly. */
const CHARGES = 6e-6;
const LONG = 1200;
const BUSY = 700;
/** Nobody is at the next piece sooner than this after the sound of a capture: hearing it takes as long already. */
const HEARD = 350;
/** By what share of the tolerance pieces may differ and pass for one, and by how many standard deviations one differs from itself. */
const SAME_SHARE = 0.02;
const SURE_DEVIATIONS = 8;

/** What is not simply a piece, how often, and for which kinds. */
const SHARES: readonly [what: What, share: number, holds: (kind: Kind) => boolean][] = [
  ['slipped', 0.06, () => true],
  [
    'slipped-off',
    0.02,
    (kind) => kind.toleranceOhms * SAME_SHARE > SURE_DEVIATIONS * deviationOhms(kind, kind.nominalOhms),
  ],
  ['pinched', 0.04, ({ nominalOhms }) => nominalOhms >= NEAR_FINGERS],
  ['after-fingers', 0.06, () => true],
  ['far-low', 0.03, ({ nominalOhms }) => nominalOhms > 0],
  ['far-high', 0.03, ({ meter }) => meter.rangeOhms === null],
  ['shorted', 0.02, ({ nominalOhms }) => nominalOhms > ROOM_FOR_TAPS],
  [
    'open-by-taps',
    0.02,
    ({ nominalOhms, meter }) => nominalOhms > ROOM_FOR_TAPS && (meter.rangeOhms ?? 0) * meter.farads < SLOW_FARAD_OHMS,
  ],
  ['open-by-key', 0.02, () => true],
  ['meter-busy', 0.02, () => true],
];

/** A whole job as a stream: seeded, like one that was recorded. */
export function streamOf(kind: Kind, seed: number): Stream {
  const job = new Job(kind, new Dice(seed));
  job.hands.apart(LONG);
  for (let piece = 0; piece < kind.pieces; piece++) job.next();
  job.hands.apart(LONG * 3);
  const { hands, expected, dice } = job;
  const readings = readingsOf(hands.between, hands.now, kind.meter, dice, hands.busy);
  return { readings, says: hands.says, expected, nuisances: hands.nuisances };
}

class Job {
  readonly hands: Hands;
  readonly expected: Expected[] = [];
  readonly dice: Dice;
  readonly #kind: Kind;
  /** A slip is shorter, by the aperture: within it a meter cannot tell contact from none. */
  readonly #release: number;
  readonly #gap: number;
  readonly #hold: number;

  constructor(kind: Kind, dice: Dice) {
    this.#kind = kind;
    this.dice = dice;
    this.hands = new Hands(dice);
    this.#release = RELEASE + CHARGES * kind.nominalOhms * 1.1;
    this.#gap = apartFor(this.#release, kind.meter);
    this.#hold = 1000 / kind.piecesPerSecond - this.#gap;
  }

  next(): void {
    const { dice, hands } = this;
    if (dice.happens(0.04)) this.#fingersInstead();
    if (this.#kind.nominalOhms > ROOM_FOR_TAPS && dice.happens(0.03)) {
      hands.tap(dice.between(60, 300));
      hands.apart(this.#gap);
    }
    this.#one(this.#what());
    hands.apart(this.#gap);
  }

  #what(): What {
    let left = this.dice.between(0, 1);
    for (const [what, share, holds] of SHARES) {
      if (left < share) return holds(this.#kind) ? what : 'piece';
      left -= share;
    }
    return 'piece';
  }

  #fingersInstead(): void {
    this.hands.fingers(this.dice.between(100, 1500));
    this.hands.apart(this.#gap);
  }

  #one(what: What): void {
    if (what === 'open-by-taps' || what === 'open-by-key') this.#open(what);
    else this.#put(what);
    if (what === 'slipped-off') this.#putAgain();
  }

  /** A tip was off the captured piece for longer than the release, and is back before a hand could have changed the piece. */
  #putAgain(): void {
    const { hands, dice } = this;
    const { readingsPerSecond, apertureMilliseconds } = this.#kind.meter;
    const late = 1100 / readingsPerSecond + apertureMilliseconds + LONGEST_BOUNCE;
    const piece = this.expected.at(-1) as Expected;
    hands.apart(dice.between(RELEASE, 2 * RELEASE - late));
    hands.hold(piece.ohms as number, this.#hold * 1.5);
    piece.to = hands.now;
  }

  #put(what: Exclude<What, 'open-by-taps' | 'open-by-key'>): void {
    const { hands, dice } = this;
    const ohms = Math.max(0, this.#ohmsOf(what) + dice.normal(this.#kind.placingOhms));
    const from = hands.now;
    this.#before(what, ohms);
    hands.hold(ohms, this.#holdOf(what, ohms));
    const late = 2000 / this.#kind.meter.readingsPerSecond;
    this.expected.push({ what, from, to: hands.now + late, ohms, deviationOhms: deviationOhms(this.#kind, ohms) });
  }

  #before(what: What, ohms: number): void {
    const { hands, dice } = this;
    if (what === 'slipped') {
      hands.hold(ohms, dice.between(40, 500));
      hands.slip(ohms, dice.between(3, RELEASE - LONGEST_BOUNCE - this.#kind.meter.apertureMilliseconds));
    }
    if (what === 'pinched') hands.fingers(dice.between(80, 400), ohms);
    if (what === 'after-fingers') {
      hands.fingers(dice.between(80, 600));
      if (dice.happens(0.5)) hands.apart(dice.between(0, 3 * this.#gap));
    }
    if (what === 'meter-busy') {
      if (dice.happens(0.5)) {
        hands.meterBusy(BUSY);
        hands.apart(BUSY + this.#gap);
      } else {
        hands.hold(ohms, dice.between(40, 400));
        hands.meterBusy(BUSY);
        hands.hold(ohms, BUSY);
      }
    }
  }

  #holdOf(what: What, ohms: number): number {
    const settles = 20 * ohms * this.#kind.meter.farads * 1000;
    if (what === 'shorted') return LONG;
    if (what === 'far-high' || (what === 'far-low' && ohms >= NEAR_FINGERS))
      return Math.max(LONG + settles, this.#hold);
    // Whoever has had fingers on it waits for the sound of the capture.
    if (what === 'after-fingers' || what === 'pinched' || what === 'slipped') return this.#hold * 1.5;
    // Lower values near the tips' own resistance are held like a shorted piece.
    return ohms < LIKE_TIPS && this.#kind.nominalOhms > LIKE_TIPS ? LONG : this.#hold;
  }

  #ohmsOf(what: What): number {
    const { nominalOhms, toleranceOhms } = this.#kind;
    const { dice } = this;
    if (what === 'shorted') return dice.between(0, 0.4);
    if (what === 'far-low') return nominalOhms * 10 ** dice.between(-2, -0.2);
    if (what === 'far-high') return nominalOhms * 10 ** dice.between(0.4, 1.7);
    if (nominalOhms === 0) return dice.between(0, toleranceOhms);
    return nominalOhms + dice.normal(toleranceOhms / 4);
  }

  #open(what: 'open-by-taps' | 'open-by-key'): void {
    const { hands, dice } = this;
    hands.apart(dice.between(200, 900));
    const from = hands.now;
    if (what === 'open-by-key') hands.sayOpen();
    else {
      hands.tap(dice.between(110, 260));
      hands.apart(apartFor(0, this.#kind.meter) + 1000 / this.#kind.meter.readingsPerSecond + dice.between(0, 200));
      hands.tap(dice.between(110, 260));
    }
    hands.apart(apartFor(1000, this.#kind.meter) + 100);
    this.expected.push({ what, from, to: hands.now, ohms: null, deviationOhms: 0 });
    hands.apart(HEARD);
  }
}

function deviationOhms({ meter }: Kind, ohms: number): number {
  return Math.hypot(noiseOhms(meter, ohms), meter.handOhms);
}
