import { readBands } from '../../core/marking/bands.ts';
import type { Colour } from '../../core/marking/colour.ts';
import { isMarked, type Marked, type Unread } from '../../core/marking/marking.ts';
import { bandsToCome } from '../../core/marking/oneWay.ts';
import { readColours } from '../../core/marking/readColours.ts';
import { readMarking } from '../../core/marking/readMarking.ts';
import { asProblem } from '../../core/problem/problem.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { counted } from '../words/count.ts';
import { problemWords } from '../words/problemWords.ts';

/** How a marking is given. */
export type MarkingKind = 'bands' | 'code';

/** One way a marking may be meant, or why that way makes no sense. */
export interface Way {
  /** Which way it is, like `First to last`; empty where there is nothing to tell apart. */
  name: string;
  read: Marked | Unread;
}

/** What was made of a marking by now. */
export interface MarkingRead {
  /** The bands as they are drawn; none for codes and while they cannot be read. */
  colours: readonly Colour[];
  ways: readonly Way[];
  /** The way that is taken unless somebody chooses; null where that is for them to say. */
  likelier: number | null;
  /** What speaks for it, in sentences. */
  why: string;
  /** What is still to come, where what was typed may be the beginning of a marking; then `problem` matters to nobody but who is done. */
  toCome: string | null;
  /** What is wrong with what was typed. */
  problem: string | null;
}

const NOTHING: MarkingRead = { colours: [], ways: [], likelier: null, why: '', toCome: null, problem: null };

/** Reads a marking as it is being entered. Nothing entered is no problem. */
export function readEntered(kind: MarkingKind, text: string): MarkingRead {
  if (text.trim() === '') return NOTHING;
  try {
    return kind === 'bands' ? bandsEntered(text) : codeEntered(text);
  } catch (thrown) {
    return { ...NOTHING, problem: problemWords(asProblem(thrown)) };
  }
}

const LEAST_BANDS = 3;
const NO_CODE_BEGINS_SO = 'No code begins with these bands, from either end: look at the colours again.';

function bandsEntered(text: string): MarkingRead {
  const colours = readColours(text);
  const { forward, backward, likelier, why } = readBands(colours);
  const both = [
    { name: 'First to last', read: forward },
    { name: 'Last to first', read: backward },
  ];
  if (!isMarked(forward) && !isMarked(backward)) {
    const count = bandsToCome(colours);
    const toCome = count === null ? null : `${counted(count, 'more band', 'more bands')} at least`;
    // One sentence says enough, the one of the direction that was given; too few bands to be read are not what is wrong here.
    const problem = count === null && colours.length < LEAST_BANDS ? NO_CODE_BEGINS_SO : forward.refused;
    return { ...NOTHING, colours, toCome, problem };
  }
  if (isMarked(forward) && isMarked(backward) && sameValue(forward, backward)) {
    return { ...NOTHING, colours, ways: [{ name: '', read: forward }], likelier: 0, why };
  }
  return { ...NOTHING, colours, ways: both, likelier: likelier && (likelier === 'forward' ? 0 : 1), why };
}

function sameValue(one: Marked, other: Marked): boolean {
  return (
    one.ohms === other.ohms &&
    one.tolerancePercent === other.tolerancePercent &&
    one.ppmPerKelvin === other.ppmPerKelvin
  );
}

const SCHEME_WORDS: Record<Marked['scheme'], string> = {
  bands: 'Colour bands',
  'letter-code': 'Letter for the decimal point',
  'three-digit': 'Two figures and a multiplier',
  'four-digit': 'Three figures and a multiplier',
  'eia-96': 'EIA-96 code',
  plain: 'Plain figures',
  jumper: 'Zero-ohm link',
};

function codeEntered(text: string): MarkingRead {
  const meanings = readMarking(text);
  const ways = meanings.map((read) => ({ name: SCHEME_WORDS[read.scheme], read }));
  const why = ways.length > 1 ? 'More than one code fits. Which of them, the data sheet or a meter can say.' : '';
  return { ...NOTHING, ways, likelier: ways.length === 1 ? 0 : null, why };
}

/** What a marking says, short: `10 kΩ ±1 %, ±50 ppm/K`. */
export function markedWords({ ohms, tolerancePercent, ppmPerKelvin }: Marked): string {
  const tolerance = tolerancePercent === null ? '' : ` ±${tolerancePercent}\u00a0%`;
  const coefficient = ppmPerKelvin === null ? '' : `, ±${ppmPerKelvin}\u00a0ppm/K`;
  return `${formatOhms(ohms).replace(' ', '\u00a0')}${tolerance}${coefficient}`;
}

/** One more colour behind what was typed. */
export function withColour(text: string, colour: Colour): string {
  return text.trim() === '' ? colour : `${text.trim()} ${colour}`;
}
