import type { SeededRandom } from './seededRandom.ts';

/**
 * What the misbehaving meter does to one answer. All that happens inside one reading is such that somebody can find it:
 * a digit that is flipped, added or lost inside one number makes another number, and nobody can tell it from a right one.
 */
export type Deed =
  /** The meter works on it for so long; whatever it is asked meanwhile waits. */
  | { do: 'answer-late'; milliseconds: number }
  /** The line holds the answer and all behind it back for so long, in order, while the meter goes on. */
  | { do: 'hold-line'; milliseconds: number }
  /** The answer arrives among later ones: in front of or behind the one after so many others. */
  | { do: 'send-later'; others: number; where: 'before' | 'behind' }
  | { do: 'lose' }
  /** The answer comes twice; in one write, or after a pause. */
  | { do: 'double'; pause: number | 'one write' }
  | { do: 'split'; at: number; pause: number }
  | { do: 'trickle'; pause: number }
  /** The answer waits for the next one and both come in one write. */
  | { do: 'join' }
  | { do: 'echo' }
  | { do: 'end-with-cr' }
  | { do: 'insert'; text: string; at: number }
  | { do: 'line'; text: string; where: 'before' | 'behind' }
  | { do: 'run-on'; bytes: number; where: 'instead' | 'before' | 'ended' }
  | { do: 'not-a-number' }
  /** One question of the message is refused: its field is left out, the error queue says why. */
  | { do: 'refuse'; unit: number }
  | { do: 'note-error' }
  | { do: 'fall-silent'; milliseconds: number }
  | { do: 'hang-up'; sent: number }
  | { do: 'reboot'; sent: number; deaf: number; banner: string; hangUp: boolean }
  | { do: 'become-another'; sent: number }
  | { do: 'change-function'; to: string; when: 'before' | 'after' };

export interface Fault {
  name: FaultName;
  /** Committed at the first answer it fits, after so many answers were let pass. */
  skip: number;
  deed: Deed;
}

/** Beyond the deadline of a reading in the campaign, which is about 2.1 s; questions have 3 s. */
const LATE: [number, number] = [2200, 6500];
const PRINTABLE = Array.from({ length: 95 }, (_, place) => String.fromCharCode(0x20 + place)) as [string, ...string[]];
const NO_DIGIT = PRINTABLE.filter((character) => !/\d/.test(character)) as [string, ...string[]];
/** Whole lines that look like something a meter says. */
const LINES = [
  '0',
  '1',
  '123',
  '+4.70213E+03',
  '"RES"',
  '0,"No error"',
  'x',
  '?',
  'OK',
  '>',
  '',
  ' ',
  ';',
  '1;2',
  '*ESE?',
] as const;

const several = (random: SeededRandom, choices: [string, ...string[]], most: number) =>
  Array.from({ length: random.whole(1, most) }, () => random.pick(choices)).join('');
const highBytes = Array.from({ length: 128 }, (_, place) => String.fromCharCode(0x80 + place)) as [string, ...string[]];
/** Anywhere in an answer, given as a share of its length: the answer is not known yet. */
const anywhere = (random: SeededRandom) => random.pick([0, 1, random.fraction()]);
const pause = (random: SeededRandom) => random.pick([0, random.whole(1, 30), random.whole(30, 400)]);

/** Each kind of fault, how it is made up, and how often compared with others: those that cost seconds come less often. */
const KINDS = {
  'late answer': [
    3,
    (random) => ({ do: random.pick(['answer-late', 'hold-line']), milliseconds: random.whole(...LATE) }),
  ],
  'slow answer': [
    3,
    (random) => ({ do: random.pick(['answer-late', 'hold-line']), milliseconds: random.whole(1, 1200) }),
  ],
  'answer among later ones': [
    2,
    (random) => ({ do: 'send-later', others: random.whole(0, 4), where: random.pick(['before', 'behind']) }),
  ],
  'lost answer': [2, () => ({ do: 'lose' })],
  'doubled answer': [
    6,
    (random) => ({ do: 'double', pause: random.pick<number | 'one write'>(['one write', pause(random)]) }),
  ],
  'answer in two pieces': [
    6,
    (random) => ({ do: 'split', at: random.fraction(), pause: random.pick([pause(random), random.whole(400, 2500)]) }),
  ],
  'answer byte by byte': [3, (random) => ({ do: 'trickle', pause: random.whole(0, 12) })],
  'two answers in one write': [2, () => ({ do: 'join' })],
  'echo switched on': [4, () => ({ do: 'echo' })],
  'CR as the only end': [4, () => ({ do: 'end-with-cr' })],
  'rubbish bytes': [6, (random) => ({ do: 'insert', text: several(random, NO_DIGIT, 5), at: anywhere(random) })],
  'rubbish line': [
    6,
    (random) => ({
      do: 'line',
      text: random.pick([random.pick(LINES), several(random, PRINTABLE, 30)]),
      where: random.pick(['before', 'behind']),
    }),
  ],
  'torn line': [6, (random) => ({ do: 'insert', text: random.pick(['\n', '\r', '\r\n']), at: random.fraction() })],
  'extra field': [
    4,
    (random) => ({ do: 'insert', text: random.pick([';0', ';', ';;', ';"RES"']), at: anywhere(random) }),
  ],
  '8-bit noise': [6, (random) => ({ do: 'insert', text: several(random, highBytes, 20), at: anywhere(random) })],
  'NUL bytes': [6, (random) => ({ do: 'insert', text: '\0'.repeat(random.whole(1, 20)), at: anywhere(random) })],
  'endless line': [
    2,
    (random) => ({
      do: 'run-on',
      bytes: random.pick([5000, 20_000, 200_000]),
      where: random.pick(['instead', 'before', 'ended']),
    }),
  ],
  overload: [4, null],
  'above the range': [4, null],
  'not a number': [4, () => ({ do: 'not-a-number' })],
  'refused question': [4, (random) => ({ do: 'refuse', unit: random.whole(0, 2) })],
  'error in the queue': [4, () => ({ do: 'note-error' })],
  silence: [
    2,
    (random) => ({
      do: 'fall-silent',
      milliseconds: random.pick([random.whole(100, 4000), random.whole(4000, 16_000)]),
    }),
  ],
  'hang-up': [4, (random) => ({ do: 'hang-up', sent: anywhere(random) })],
  reboot: [
    4,
    (random) => ({
      do: 'reboot',
      sent: anywhere(random),
      deaf: random.whole(0, 600),
      banner: random.pick(['', '', 'READY\r\n', '\0\0\xff', '0\n']),
      hangUp: random.chance(0.3),
    }),
  ],
  'another meter': [2, (random) => ({ do: 'become-another', sent: anywhere(random) })],
  'function changed at the front': [
    4,
    (random) => ({
      do: 'change-function',
      to: random.pick(['VOLT:DC', 'FRES', 'TEMP']),
      when: random.pick(['before', 'after']),
    }),
  ],
} satisfies Record<string, [weight: number, makeUp: ((random: SeededRandom) => Deed) | null]>;

export type FaultName = keyof typeof KINDS;

/** A piece under the probes, and how the meter finds it; open and above-range pieces are measured, not made up. */
export interface Piece {
  number: number;
  is: 'in range' | 'open' | 'above the range';
}

/** What goes wrong in one round: a fault of the meter, or a piece that is out of the ordinary. */
export type Trouble = { name: FaultName; fault: Fault } | { name: FaultName; piece: Piece['is'] };

export const FAULT_NAMES = Object.keys(KINDS) as FaultName[];

const DECK = FAULT_NAMES.flatMap((name) => Array<FaultName>(KINDS[name][0]).fill(name)) as [FaultName, ...FaultName[]];

export function drawTrouble(random: SeededRandom): Trouble {
  const name = random.pick(DECK);
  const makeUp: ((random: SeededRandom) => Deed) | null = KINDS[name][1];
  if (!makeUp) return { name, piece: name === 'overload' ? 'open' : 'above the range' };
  // Mostly at once, sometimes in the middle of what follows: the next reading, or the proof after another fault.
  return { name, fault: { name, skip: random.pick([0, 0, 0, random.whole(1, 6)]), deed: makeUp(random) } };
}
