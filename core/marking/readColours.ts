import { problem } from '../problem/problem.ts';
import { COLOUR_NAMES, COLOURS, type Colour } from './colour.ts';

const LONGEST = 120;
/** Nobody writes more bands than this; six is the most that mean something. */
const MOST_BANDS = 12;
const BETWEEN = /[\s,;/|+-]+/u;
const AT_THE_END = /[\s,;/|+-]+$/u;
const LAST_WORD = /[^\s,;/|+-]+$/u;

/** Other spellings of the same colours. */
const ALSO: Readonly<Record<string, Colour>> = { gray: 'grey', purple: 'violet' };

const BY_WORD = new Map<string, Colour>([
  ...COLOUR_NAMES.map((name) => [name, name] as const),
  ...COLOUR_NAMES.map((name) => [COLOURS[name].abbreviation.toLowerCase(), name] as const),
  ...Object.entries(ALSO),
]);

/**
 * Reads colours as people type them: names (`brown black red gold`), abbreviations of IEC 60757 (`bn bk rd gd`, from memory;
 * also joined, `BNBKRDGD`), in any mixture, with blanks, commas, dashes or strokes between. Says nothing of what they mean.
 * @throws problem `colours-unreadable`
 */
export function readColours(text: string): readonly Colour[] {
  const written = text.normalize('NFC').trim().toLowerCase();
  if (written === '') throw problem('colours-unreadable', '', 'there is no colour');
  if (written.length > LONGEST) throw problem('colours-unreadable', written.slice(0, LONGEST), 'it is too long');
  const colours = written
    .split(BETWEEN)
    .filter((word) => word !== '')
    .flatMap((word) => coloursOf(word, text));
  if (colours.length === 0) throw problem('colours-unreadable', text, 'there is no colour');
  if (colours.length > MOST_BANDS) throw problem('colours-unreadable', text, `${colours.length} colours are too many`);
  return colours;
}

/**
 * What was typed without its last colour: a whole word, or the last two letters of abbreviations that are joined. A word that is no
 * colour yet goes as a whole.
 */
export function withoutLastColour(text: string): string {
  const typed = text.replace(AT_THE_END, '');
  const word = LAST_WORD.exec(typed)?.[0] ?? '';
  const letters = isOfAbbreviations(word) ? 2 : word.length;
  return typed.slice(0, typed.length - letters).replace(AT_THE_END, '');
}

function coloursOf(word: string, text: string): readonly Colour[] {
  const whole = BY_WORD.get(word);
  if (whole) return [whole];
  const joined = joinedColours(word);
  if (joined) return joined;
  throw problem('colours-unreadable', text, `"${word}" is no colour of a band`);
}

function joinedColours(word: string): readonly Colour[] | null {
  const colours = word.match(/../gu)?.map((pair) => BY_WORD.get(pair)) ?? [];
  const isWhole = word.length === 2 * colours.length && colours.every((colour) => colour !== undefined);
  return isWhole ? colours : null;
}

function isOfAbbreviations(typed: string): boolean {
  const word = typed.toLowerCase();
  return !BY_WORD.has(word) && joinedColours(word) !== null;
}
