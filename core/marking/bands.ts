import { formatOhms } from '../quantity/formatOhms.ts';
import type { Colour } from './colour.ts';
import { isMarked, type Marked, type Unread } from './marking.ts';
import { readOneWay } from './oneWay.ts';
import { seriesOf } from './preferred.ts';
import { isPreferredAt } from './preferredWarning.ts';

/** Bands read from both ends. */
export interface BandsRead {
  /** From the first colour given to the last. */
  forward: Marked | Unread;
  /** From the last to the first. */
  backward: Marked | Unread;
  /** Which direction is likelier; null where nothing speaks for either, where both say the same, or where neither makes sense. */
  likelier: 'forward' | 'backward' | null;
  /** Why, in whole sentences. */
  why: string;
}

/** Bands that were read have a tolerance; a link of one band says the same in both directions and never comes to the signs. */
const WITHOUT_TOLERANCE = '20';
const LOOK =
  'Look at the part: the last band is wider or stands further away from the others, and where neither is to be seen, measure.';

/**
 * Reads bands from both ends, since a part does not say which way round it lies. See {@link readOneWay} for the code.
 * The likelier direction is, in this order, the only one that makes sense, the one whose value is a preferred number at its
 * tolerance, the one whose value is a preferred number at all.
 */
export function readBands(colours: readonly Colour[]): BandsRead {
  const forward = readOneWay(colours);
  const backward = readOneWay(colours.toReversed());
  return { forward, backward, ...likelierOf(forward, backward) };
}

function likelierOf(forward: Marked | Unread, backward: Marked | Unread): Pick<BandsRead, 'likelier' | 'why'> {
  if (!isMarked(forward)) {
    if (!isMarked(backward)) return { likelier: null, why: 'These bands make no sense in either direction.' };
    return { likelier: 'backward', why: `Only from the other end do the bands make sense. ${forward.refused}` };
  }
  if (!isMarked(backward)) {
    return { likelier: 'forward', why: `From the other end the bands make no sense: ${lowerFirst(backward.refused)}` };
  }
  if (sameMeaning(forward, backward)) return { likelier: null, why: 'Both directions say the same.' };
  for (const { speaksFor, words } of SIGNS) {
    const forwards = speaksFor(forward);
    if (forwards === speaksFor(backward)) continue;
    const [is, isNot] = forwards ? [forward, backward] : [backward, forward];
    return { likelier: forwards ? 'forward' : 'backward', why: `${words(is, isNot)} ${LOOK}` };
  }
  return { likelier: null, why: `Both directions make sense, and nothing speaks for either. ${LOOK}` };
}

interface Sign {
  speaksFor(read: Marked): boolean;
  words(is: Marked, isNot: Marked): string;
}

/** What speaks for a direction, the strongest first. */
const SIGNS: readonly Sign[] = [
  {
    speaksFor: ({ ohms, tolerancePercent }) => isPreferredAt(ohms, tolerancePercent ?? WITHOUT_TOLERANCE),
    words: (is, isNot) =>
      `${formatOhms(is.ohms)} is a preferred number that parts of ±${is.tolerancePercent} % are made in; ${formatOhms(isNot.ohms)} is none for ±${isNot.tolerancePercent} %.`,
  },
  {
    speaksFor: ({ ohms }) => seriesOf(ohms).length > 0,
    words: (is, isNot) =>
      `${formatOhms(is.ohms)} is a preferred number of ${seriesOf(is.ohms)[0]}; ${formatOhms(isNot.ohms)} is one of no series.`,
  },
];

function sameMeaning(one: Marked, other: Marked): boolean {
  return (
    one.ohms === other.ohms &&
    one.tolerancePercent === other.tolerancePercent &&
    one.ppmPerKelvin === other.ppmPerKelvin
  );
}

function lowerFirst(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}
