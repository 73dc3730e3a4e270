import { ACT_DONE } from '../practice/practiceAct.ts';
import { counted, formatCount } from '../quantity/formatCount.ts';
import { numbersText } from '../quantity/numbersText.ts';
import { sentence } from '../quantity/sentence.ts';
import { CHECK_WORDS, CHECKS } from '../readiness/check.ts';
import { isWhole } from '../readiness/round.ts';
import { conforms, VERDICTS, type Verdict } from '../window/judge.ts';
import { apply } from './apply.ts';
import type { InspectionEvent } from './event.ts';
import type { Run } from './run.ts';
import {
  certificateWords,
  correctedWords,
  decidedWords,
  type EventOf,
  factWords,
  meterWords,
  ohmsSaid,
  receivedWords,
  VERDICT_SAID,
  valueSaid,
  voidWords,
} from './storyWords.ts';

/** An entry of the record as far as its story goes. */
export interface Told {
  /** Place in the whole record, from 1. */
  position: number;
  event: InspectionEvent;
  /** SHA-256 (hex) of the entry. */
  hash: string;
}

/** What a line tells of: an event, or that readings became suspect, which follows from one. */
export type StoryKind = InspectionEvent['type'] | 'readings-suspect';

/** A line of the story of a run. */
export interface StoryLine {
  kind: StoryKind;
  /** When it happened, and when the last of it where it is of several entries; ISO 8601 with offset. */
  at: string;
  until: string;
  /** Who did it; null where nobody did. */
  by: string | null;
  words: string;
  /** Places in the record of the first and of the last entry it tells of, and the hash of the last. */
  position: number;
  upTo: number;
  hash: string;
}

type Line = Omit<StoryLine, 'until' | 'upTo' | 'hash' | 'at' | 'position'>;

/** Entries that become one line when something else happens. */
interface Together<T extends InspectionEvent['type']> {
  type: T;
  first: Told;
  last: Told;
}

/** Readings one after the other, of pieces one after the other; kept are only those that do not conform, as far as they are named. */
interface Readings extends Together<'reading-taken'> {
  begin: EventOf<'reading-taken'>;
  end: EventOf<'reading-taken'>;
  isAgain: boolean;
  counts: Partial<Record<Verdict, number>>;
  notConforming: EventOf<'reading-taken'>[];
}

/** Checks that let the round go on, all done by one person. */
interface Checks extends Together<'bench-checked'> {
  done: EventOf<'bench-checked'>[];
}

/** More readings that do not conform are counted, not named one by one. */
const MOST_NAMED = 5;

/**
 * Tells what happened in a run, entry by entry in the order of the record, as lines that a stranger reads from top to bottom. Readings
 * that follow each other are one line, and so are the checks of a round; everything else is a line of its own. What it keeps is the run
 * as it stands, which is folded on the way.
 */
export class StoryTeller<T extends Told = Told> {
  #run: Run | null = null;
  #open: Readings | Checks | null = null;
  /** Whether anything that stands on a certificate changed since the last one was written. */
  #hasChanged = false;

  readonly #fold: (run: Run | null, told: T) => Run;

  /** @param fold the run after one more entry, where it does more than `apply` */
  constructor(fold: (run: Run | null, told: T) => Run = (run, { event }) => apply(run, event)) {
    this.#fold = fold;
  }

  /** The lines that are complete with this entry. @throws Error where the first entry is not `lot-received` */
  tell(told: T): StoryLine[] {
    const before = this.#run;
    const after = this.#fold(before, told);
    const lines = this.#lines(before, after, told);
    if (after.tally.suspect > (before?.tally.suspect ?? 0)) lines.push(lineOf(told, suspectLine(before, after)));
    this.#run = after;
    return lines;
  }

  /** The line that is not complete yet, at the end of the story. */
  end(): StoryLine[] {
    const end = this.#open;
    this.#open = null;
    if (end === null) return [];
    const study = this.#run?.plan.choice.kind === 'study';
    const words = end.type === 'reading-taken' ? readingsWords(end, study) : checksWords(end, this.#run);
    const by = end.type === 'reading-taken' ? null : (end.done[0]?.by ?? null);
    const { first, last, type: kind } = end;
    const { position } = first;
    return [
      { kind, at: first.event.at, until: last.event.at, by, words, position, upTo: last.position, hash: last.hash },
    ];
  }

  #lines(before: Run | null, after: Run, told: Told): StoryLine[] {
    const { event } = told;
    if (before !== null && event.type === 'reading-taken') return this.#reading(before, told, event);
    if (event.type === 'bench-checked' && event.outcome !== 'failed') return this.#check(after, told, event);
    const lines = [...this.end(), ...this.#linesOf(before, event).map((line) => lineOf(told, line))];
    if (CHANGING.has(event.type)) this.#hasChanged = true;
    if (event.type === 'certificate-written') this.#hasChanged = false;
    return lines;
  }

  #reading(before: Run, told: Told, event: EventOf<'reading-taken'>): StoryLine[] {
    const isAgain = before.again.includes(event.piece);
    const open = this.#open?.type === 'reading-taken' ? this.#open : null;
    if (open && open.isAgain === isAgain && event.piece === open.end.piece + 1) {
      added(open, told, event);
      return [];
    }
    const lines = this.end();
    const begun: Readings = {
      ...{ type: 'reading-taken', first: told, last: told, begin: event, end: event },
      ...{ isAgain, counts: {}, notConforming: [] },
    };
    added(begun, told, event);
    this.#open = begun;
    return lines;
  }

  #check(after: Run, told: Told, event: EventOf<'bench-checked'>): StoryLine[] {
    const open = this.#open?.type === 'bench-checked' && this.#open.done[0]?.by === event.by ? this.#open : null;
    const lines = open ? [] : this.end();
    const checks: Checks = open ?? { type: 'bench-checked', first: told, last: told, done: [] };
    checks.last = told;
    checks.done.push(event);
    this.#open = checks;
    if (!isWhole(after)) return lines;
    this.#run = after;
    return [...lines, ...this.end()];
  }

  #linesOf(before: Run | null, event: InspectionEvent): Line[] {
    const { type: kind } = event;
    if (event.type === 'lot-received') return receivedWords(event.facts).map((line) => ({ kind, ...line }));
    // Of a story that begins in any other way `apply` makes no run, and readings are told together.
    if (before === null || event.type === 'reading-taken') return [];
    const by = 'by' in event ? event.by : null;
    return [{ kind, by, words: this.#words(before, event) }];
  }

  #words(before: Run, event: Exclude<InspectionEvent, { type: 'lot-received' | 'reading-taken' }>): string {
    switch (event.type) {
      case 'meter-connected':
        return meterWords(event);
      case 'bench-confirmed':
        return `Confirmed that the bench is ready and ${counted(event.cautions.length, 'caution is', 'cautions are')} kept: ${event.cautions.map(sentence).join(' ')}`;
      case 'bench-checked':
        return `The check of ${CHECK_WORDS[event.check]} ${OUTCOMES[event.outcome]}: ${sentence(event.why)}`;
      case 'readiness-expired':
        return sentence(`All checks of the bench are due again: ${event.why}`);
      case 'calibration-overridden':
        return sentence(`The calibration of the meter was overridden: ${event.reason}`);
      case 'position-said':
        return event.position === null
          ? `Piece ${formatCount(event.piece)} is taken where it was asked for after all.`
          : `Piece ${formatCount(event.piece)} is taken at position ${formatCount(event.position)}, not where it was asked for.`;
      case 'reading-voided':
        return voidWords(before, event);
      case 'run-interrupted':
        return sentence(`The run was interrupted: ${event.why}`);
      case 'run-continued':
        return `The run goes on.${before.round.length > 0 ? ' The meter was away, so all checks of the bench are due again.' : ''}`;
      case 'lot-decided':
        return decidedWords(before, event);
      case 'decision-corrected':
        return correctedWords(before, event);
      case 'facts-corrected':
        return factWords(event);
      case 'hold-lifted':
        return sentence(`The hold was lifted: ${event.reason}`);
      case 'certificate-written':
        return certificateWords(before, event, this.#hasChanged);
      case 'bench-acted':
        return ACT_DONE[event.act];
      case 'cause-named':
        return `Named as the cause: ${event.cause}${event.which === null ? '' : ` (${before.practice?.asks ?? 'number'} ${event.which})`}.`;
      case 'exercise-scored': {
        const points = event.marks.reduce((sum, mark) => sum + mark.points, 0);
        const of = event.marks.reduce((sum, mark) => sum + mark.of, 0);
        return `The exercise was scored: ${points} of ${of} points. It was: ${event.causes.join(', or ')}.`;
      }
    }
  }
}

/**
 * The story of a run from its entries, one line after the other.
 * @param entries all of the run, in the order of the record
 */
export function* storyOf(entries: Iterable<Told>): Generator<StoryLine> {
  const teller = new StoryTeller();
  for (const entry of entries) yield* teller.tell(entry);
  yield* teller.end();
}

const OUTCOMES = { passed: 'passed', failed: 'failed', 'by-word': 'was taken by word', waived: 'was waived' } as const;

/** After these a certificate that was written before says no longer what is so. */
const CHANGING: ReadonlySet<InspectionEvent['type']> = new Set([
  'lot-decided',
  'decision-corrected',
  'facts-corrected',
  'hold-lifted',
]);

function lineOf({ position, event, hash }: Told, line: Line): StoryLine {
  return { ...line, at: event.at, until: event.at, position, upTo: position, hash };
}

function added(readings: Readings, told: Told, event: EventOf<'reading-taken'>): void {
  readings.last = told;
  readings.end = event;
  readings.counts[event.verdict] = (readings.counts[event.verdict] ?? 0) + 1;
  // One more than are named says that they are too many.
  if (!conforms(event.verdict) && readings.notConforming.length <= MOST_NAMED) readings.notConforming.push(event);
}

function suspectLine(before: Run | null, after: Run): Line {
  const numbers: number[] = [];
  const from = before?.lastGood ?? 0;
  for (const reading of after.readings.slice(from)) {
    if (reading.suspect && !before?.readings.get(reading.reading - 1)?.suspect) numbers.push(reading.reading);
  }
  const which = numbersText(numbers, formatCount);
  const shown = 'nothing shows that the bench was good at that time';
  const words =
    numbers.length === 1
      ? `Reading ${which} is suspect and does not count: ${shown}. Its piece is measured again.`
      : `Readings ${which} are suspect and do not count: ${shown}. Their pieces are measured again.`;
  return { kind: 'readings-suspect', by: null, words };
}

function readingsWords(readings: Readings, isStudy: boolean): string {
  const { begin, end, isAgain, counts, notConforming } = readings;
  const [one, many] = isStudy ? ['turn', 'turns'] : ['piece', 'pieces'];
  const again = isAgain ? ', measured again' : '';
  const from = begin.position === null ? '' : `, taken at ${placeWords(begin.position, end.position)}`;
  if (begin === end) {
    const which = `Reading ${formatCount(begin.reading)} of ${one} ${formatCount(begin.piece)}${from}${again}`;
    return isStudy ? `${which}.` : `${which}: ${valueSaid(begin)}, ${VERDICT_SAID[begin.verdict]}.`;
  }
  const numbers = fromTo(begin.reading, end.reading);
  const which = `Readings ${numbers} of ${many} ${fromTo(begin.piece, end.piece)}${from}${again}`;
  // A study judges the measurement, not the pieces.
  if (isStudy) return `${which}.`;
  const tally = VERDICTS.flatMap((verdict) =>
    counts[verdict] ? [`${formatCount(counts[verdict])} ${VERDICT_SAID[verdict]}`] : [],
  );
  return `${which}: ${tally.join(', ')}${namedWords(notConforming)}.`;
}

function fromTo(first: number, last: number): string {
  return `${formatCount(first)} ${last === first + 1 ? 'and' : 'to'} ${formatCount(last)}`;
}

function placeWords(first: number, last: number | null): string {
  return last === null || last === first
    ? `position ${formatCount(first)}`
    : `positions from ${formatCount(first)} to ${formatCount(last)}`;
}

function namedWords(notConforming: readonly EventOf<'reading-taken'>[]): string {
  if (notConforming.length === 0 || notConforming.length > MOST_NAMED) return '';
  return ` (${notConforming.map((each) => `piece ${formatCount(each.piece)}: ${valueSaid(each)}`).join('; ')})`;
}

function checksWords({ done }: Checks, run: Run | null): string {
  const passed = done.filter(({ outcome }) => outcome === 'passed');
  const others = done
    .filter(({ outcome }) => outcome !== 'passed')
    .map(({ check, outcome, why }) => `The check of ${CHECK_WORDS[check]} ${OUTCOMES[outcome]}: ${sentence(why)}`);
  const which =
    new Set(passed.map(({ check }) => check)).size === CHECKS.length
      ? `All ${CHECKS.length} checks of the bench passed`
      : `Checks of the bench that passed: ${passed.map(({ check }) => CHECK_WORDS[check]).join(', ')}`;
  const figures = done.flatMap(figuresWords);
  const shown = figures.length === 0 ? '' : ` (${figures.join('; ')})`;
  return [
    ...(passed.length > 0 ? [`${which}${shown}.`] : []),
    ...others,
    ...(run && isWhole(run) ? ['The bench is good.'] : []),
  ].join(' ');
}

/** What a check that did not fail showed that readings rest on. */
function figuresWords({ outcome, reference, zeroOhms, check, found }: EventOf<'bench-checked'>): string[] {
  const celsius = check === 'ambient' ? found.find(({ unit }) => unit === 'celsius')?.value : undefined;
  return [
    zeroOhms !== null && `zero ${ohmsSaid(zeroOhms)}`,
    reference !== null && outcome === 'passed' && `reference ${reference.name}, ${ohmsSaid(reference.ohms)}`,
    celsius && `ambient ${celsius}\u00a0°C`,
  ].filter((words) => typeof words === 'string');
}
