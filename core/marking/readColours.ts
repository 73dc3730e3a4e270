import { problem } from '../problem/problem.ts';
import { COLOUR_NAMES, COLOURS, type Colour } from './colour.ts';

const LONGEST = 120;
/** Nobody writes more bands than this; six is the most that mean something. */
const MOST_BANDS = 12;
const BETWEEN = /[\s,;/|+-]+/u;

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

function coloursOf(word: string, text: string): readonly Colour[] {
  const whole = BY_WORD.get(word);
  if (whole) return [whole];
  const joined = word.match(/../gu)?.map((pair) => BY_WORD.get(pair)) ?? [];
  if (word.length % 2 === 0 && joined.every((name) => name !== undefined)) return joined;
  throw problem('colours-unreadable', text, `"${word}" is no colour of a band`);
}
