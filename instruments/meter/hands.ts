import Big from 'big.js';
import type { PracticeAct } from '../../core/practice/practiceAct.ts';
import { problem } from '../../core/problem/problem.ts';
import { type DecimalText, plain } from '../../core/quantity/decimal.ts';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import type { Bench } from '../bench/bench.ts';
import { BENCH_ACTS } from '../bench/benchActs.ts';
import { FUNCTION_NAMES } from '../bench/functions.ts';
import type { PairToTouch } from '../bench/handsInTime.ts';
import type { Place } from '../bench/place.ts';
import { referenceOf, referenceText } from '../bench/reference.ts';
import { pairPlace, plainName } from '../bench/wiring.ts';
import type { MeterFunction } from './dialect.ts';

/** What is written on the reference resistor of a simulated bench. */
export interface ReferenceOnBench {
  ohms: DecimalText;
  /** Expanded uncertainty (k = 2). */
  uncertaintyOhms: DecimalText;
}

/** Two terminals to be touched, and what they are expected to be. */
export interface PairOfTerminals {
  from: string;
  to: string;
  expected: 'closed' | 'open';
  /** How switches stand meanwhile. */
  state: string;
}

/**
 * Moves the probes on a simulated bench. At a real bench the operator's own hands do it. All of it rejects with
 * setting-not-taken or answer-unreadable where the bench does not say what it should, and with what the line throws.
 */
export interface Hands {
  /** Puts the probes on this piece of the lot, 1 and up. */
  place(piece: number): Promise<void>;
  /** Puts piece after piece on the probes by itself from now on, beginning with this one, until the probes are taken off. */
  takePieces(first: number): Promise<void>;
  /** While pieces are taken: which one comes after the one that is held. */
  sayNext(piece: number): Promise<void>;
  /** Taps the tips against each other again and again, until the probes are taken off. */
  tap(): Promise<void>;
  /** Takes the probes off, and lets the hands rest. */
  lift(): Promise<void>;
  /** Holds the probes against each other. */
  short(): Promise<void>;
  /** Puts the probes on the reference resistor and reads what is written on it. */
  reference(): Promise<ReferenceOnBench>;
  /** Puts the probes on two terminals of the wiring, its switches as they are to stand. */
  touchPair(pair: PairOfTerminals): Promise<void>;
  /** Touches pairs of terminals as they are said, beginning with this one, until the probes are taken off. */
  takePairs(first: PairOfTerminals): Promise<void>;
  /** While pairs are touched: which one comes after the one that is held. Switches stay as they are. */
  sayNextPair(pair: PairOfTerminals): Promise<void>;
  /** Puts the probes on the fixture, for the check that nothing there is live. */
  fixture(): Promise<void>;
  /** Does something else at the bench. */
  act(act: PracticeAct): Promise<void>;
  /** From now on contacts scatter by so many ohms (standard deviation) from one placing to the next. */
  contacts(ohms: number): Promise<void>;
  /** Turns a meter that takes no commands to a function; one that takes them is told. */
  turnTo(wanted: MeterFunction): Promise<void>;
}

/** Hands over the line of a simulated bench: it is told where the probes go, then asked where they are. */
export function handsOverLine(line: {
  tell: (command: string) => Promise<void>;
  ask: (question: string) => Promise<string>;
}): Hands {
  return handsBy({
    put: async (where) => {
      await line.tell(`BENC:PLAC ${where}`);
      const found = await line.ask('BENC:PLAC?');
      if (found !== String(where)) throw problem('setting-not-taken', 'the place of the probes', String(where), found);
    },
    work: async (what, first) => {
      await line.tell(`BENC:HAND ${what}${first === null ? '' : `,${first}`}`);
      const found = await line.ask('BENC:HAND?');
      if (found !== what) throw problem('setting-not-taken', 'what the hands do', what, found);
    },
    next: (piece) => line.tell(`BENC:HAND:NEXT ${piece}`),
    pairs: async (pair) => {
      await line.tell(`BENC:HAND PAIR,${pairText(pair)}`);
      const found = await line.ask('BENC:HAND?');
      if (found !== 'PAIR') throw problem('setting-not-taken', 'what the hands do', 'PAIR', found);
    },
    nextPair: (pair) => line.tell(`BENC:HAND:NEXT ${pairText(pair)}`),
    switchTo: async (state) => {
      const text = `"${plainName(state)}"`;
      await line.tell(`BENC:STAT ${text}`);
      const found = await line.ask('BENC:STAT?');
      if (found !== text) throw problem('setting-not-taken', 'the state of switches', text, found);
    },
    written: () => line.ask('BENC:REF?'),
    turn: async () => undefined,
    act: async (act) => {
      const word = BENCH_ACTS[act].word.replace(/[a-z]/g, '');
      await line.tell(`BENC:ACT ${word}`);
      const found = await line.ask('BENC:ACT?');
      if (found !== word) throw problem('setting-not-taken', 'what is done at the bench', word, found);
    },
    contacts: (ohms) => line.tell(`BENC:FAUL CONT,${ohms}`),
  });
}

/** Hands at a simulated bench in this process, whose meter may be one that takes no commands. */
export function handsAt(bench: Bench): Hands {
  return handsBy({
    put: async (where) => bench.place(where),
    work: async (what, first) =>
      what === 'TAP' ? bench.tap() : bench.takePieces(first ?? 1, bench.scenario.hands.piecesPerSecond),
    next: async (piece) => bench.hands.say(piece),
    pairs: async (pair) => bench.takePairs(pairToTouch(pair)),
    nextPair: async (pair) => bench.hands.sayPair(pairToTouch(pair)),
    switchTo: async (state) => {
      bench.conditions.state = state;
    },
    written: async () => referenceText(referenceOf(bench.scenario)),
    turn: async (wanted) => bench.select(FUNCTION_NAMES[wanted]),
    act: async (act) => bench.act(act),
    contacts: async (ohms) => {
      bench.conditions.contactSpreadOhms = ohms;
    },
  });
}

function pairText({ from, to, expected }: PairOfTerminals): string {
  return `${pairPlace(from, to)}${expected === 'open' ? ',OPEN' : ''}`;
}

function pairToTouch({ from, to, expected }: PairOfTerminals): PairToTouch {
  return { place: pairPlace(from, to), isOpen: expected === 'open' };
}

function handsBy(way: {
  put: (where: Place) => Promise<void>;
  work: (what: 'AUTO' | 'TAP', first: number | null) => Promise<void>;
  next: (piece: number) => Promise<void>;
  pairs: (first: PairOfTerminals) => Promise<void>;
  nextPair: (pair: PairOfTerminals) => Promise<void>;
  switchTo: (state: string) => Promise<void>;
  written: () => Promise<string>;
  turn: (wanted: MeterFunction) => Promise<void>;
  act: Hands['act'];
  contacts: Hands['contacts'];
}): Hands {
  return {
    place: (piece) => way.put(piece),
    takePieces: (first) => way.work('AUTO', first),
    sayNext: (piece) => way.next(piece),
    touchPair: async (pair) => {
      await way.switchTo(pair.state);
      await way.put(pairPlace(pair.from, pair.to));
    },
    takePairs: async (pair) => {
      await way.switchTo(pair.state);
      await way.pairs(pair);
    },
    sayNextPair: (pair) => way.nextPair(pair),
    tap: () => way.work('TAP', null),
    lift: () => way.put('OPEN'),
    short: () => way.put('SHOR'),
    fixture: () => way.put('FIXT'),
    turnTo: (wanted) => way.turn(wanted),
    act: (act) => way.act(act),
    contacts: (ohms) => way.contacts(ohms),
    reference: async () => {
      await way.put('REF');
      return readReference(await way.written());
    },
  };
}

function readReference(answer: string): ReferenceOnBench {
  const [ohms, uncertainty, ...more] = answer.split(',').map(meterNumber);
  if (ohms?.kind !== 'value' || uncertainty?.kind !== 'value' || more.length > 0) {
    throw problem('answer-unreadable', 'BENC:REF?', answer);
  }
  return { ohms: plain(new Big(ohms.text)), uncertaintyOhms: plain(new Big(uncertainty.text)) };
}
