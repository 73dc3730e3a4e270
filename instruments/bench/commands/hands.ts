import type { Bench } from '../bench.ts';
import { type Parameter, ScpiError } from '../grammar.ts';
import type { PairToTouch, Work } from '../handsInTime.ts';
import { PIECES_PER_SECOND } from '../scenario.ts';
import type { Command } from './command.ts';
import { oneOf, pair, place, plainNumber, required } from './parameters.ts';

const WORDS = { AUTO: 'pieces', PAIR: 'pairs', TAP: 'taps', REST: 'rest' } as const satisfies Record<string, Work>;
const words = Object.keys(WORDS) as (keyof typeof WORDS)[];

function piece(parameter: Parameter | undefined): number {
  const where = place(parameter);
  if (typeof where !== 'number') throw new ScpiError(-104, where);
  return where;
}

/** Two terminals by their names, and whether they are to be open. */
function pairToTouch(
  from: Parameter | undefined,
  to: Parameter | undefined,
  expected: Parameter | undefined,
): PairToTouch {
  const isOpen = expected !== undefined && oneOf(expected, ['OPEN', 'CLOSed']) === 'OPEN';
  return { place: pair(required(from), required(to)), isOpen };
}

function work(bench: Bench, [what, first, rate, more]: Parameter[]): undefined {
  const word = oneOf(what, words);
  if (word === 'PAIR') return bench.takePairs(pairToTouch(first, rate, more));
  if (more) throw new ScpiError(-108);
  if (first && word !== 'AUTO') throw new ScpiError(-108);
  if (word === 'TAP') return bench.tap();
  if (word === 'REST') return bench.rest();
  const perSecond = rate ? plainNumber(rate) : bench.scenario.hands.piecesPerSecond;
  if (!PIECES_PER_SECOND.safeParse(perSecond).success) throw new ScpiError(-222, String(perSecond));
  return bench.takePieces(first ? piece(first) : 1, perSecond);
}

/**
 * Hands that go on by themselves, by the bench's own clock, which no meter has:
 *
 *     BENCh:HANDs AUTO[,<first piece>[,<pieces a second>]]   piece after piece is put on the probes
 *     BENCh:HANDs PAIR,"A1","B3"[,OPEN]                   two terminals, then those that are said; those to be open by two taps first
 *     BENCh:HANDs TAP                                       the tips are tapped together about once a second
 *     BENCh:HANDs REST                                      the probes are taken off, as by BENCh:PLACe OPEN
 *     BENCh:HANDs:NEXT <piece>                              the piece after the one that is held, if not the one behind it; or "A2","B4"[,OPEN]
 *     BENCh:TRIGger                                         somebody presses the meter's own trigger
 *
 * `BENCh:HANDs?` answers AUTO, PAIR, TAP or REST.
 */
export const hands: readonly Command[] = [
  { header: 'BENCh:HANDs', parameters: [1, 4], run: work },
  {
    header: 'BENCh:HANDs?',
    parameters: [0, 0],
    run: (b) => words.find((word) => WORDS[word] === b.hands.work) ?? '',
  },
  {
    header: 'BENCh:HANDs:NEXT',
    parameters: [1, 3],
    run: (b, [next, other, expected]) => {
      if (next?.kind === 'string') return b.hands.sayPair(pairToTouch(next, other, expected));
      if (other) throw new ScpiError(-108);
      return b.hands.say(piece(next));
    },
  },
  {
    header: 'BENCh:TRIGger',
    parameters: [0, 0],
    run: async (b) => {
      await b.press();
      return '';
    },
  },
];
