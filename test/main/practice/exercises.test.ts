import { describe, expect, it } from 'vitest';
import { cornersOf } from '../../../core/network/corner.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { readScenario } from '../../../instruments/bench/scenario.ts';
import { shippedExercises } from '../../../main/practice/shippedExercises.ts';
import { Played } from './played.ts';

/** Every exercise as it is meant to be done, and what its typical mistake costs. */
const FULL = {
  'bench shown ready': 1,
  'pieces judged right': 1,
  'nothing on suspect readings': 1,
  'cause named': 1,
  'lot decided right': 1,
  time: 1,
};

type Player = (played: Played) => Promise<Record<string, number>>;

const PLAYED: Record<string, { right: Player; wrong: Player; costs: readonly (keyof typeof FULL)[] }> = {
  'first-reel': {
    right: async (played) => {
      await played.through();
      await played.name('nothing wrong');
      return played.decide('accepted');
    },
    // Sees ghosts: not accepted although the plan accepts.
    wrong: async (played) => {
      await played.through();
      await played.name('sorted lot');
      return played.decide('not-accepted', 'it does not feel right');
    },
    costs: ['cause named', 'lot decided right'],
  },
  'new-reel': {
    right: async (played) => {
      await played.through();
      await played.name('value of another decade');
      return played.decide('not-accepted');
    },
    // Blames the meter, and leaves it open.
    wrong: async (played) => {
      await played.checks();
      await played.read(2);
      await played.name('meter drifts');
      return played.decide('on-hold', 'the meter shows nonsense');
    },
    costs: ['bench shown ready', 'pieces judged right', 'cause named', 'lot decided right'],
  },
  'thirty-two-pieces': {
    right: async (played) => {
      await played.through();
      await played.name('two values on one reel');
      return played.decide('not-accepted');
    },
    wrong: async (played) => {
      await played.through();
      await played.name('meter drifts');
      return played.decide('not-accepted');
    },
    costs: ['cause named'],
  },
  'fifty-pieces': {
    right: async (played) => {
      await played.through();
      await played.name('sorted lot');
      return played.decide('accepted');
    },
    // Every piece passes, so nothing is looked at.
    wrong: async (played) => {
      await played.through();
      await played.name('nothing wrong');
      return played.decide('accepted');
    },
    costs: ['cause named'],
  },
  'twenty-pieces': {
    right: async (played) => {
      await played.through('let the meter warm up');
      await played.name('meter drifts');
      return played.decide('accepted');
    },
    // Takes the slope for the reel's and leaves it at that.
    wrong: async (played) => {
      await played.checks();
      await played.read();
      await played.checks();
      await played.name('spliced or drifting reel');
      return played.decide('on-hold', 'the value rises along the reel');
    },
    costs: ['bench shown ready', 'pieces judged right', 'cause named', 'lot decided right'],
  },
  'bench-by-the-window': {
    right: async (played) => {
      await played.through('change the leads');
      await played.name('lead breaks when moved');
      return played.decide('accepted');
    },
    wrong: async (played) => {
      await played.checks();
      await played.read();
      await played.name('an element open');
      return played.decide('on-hold', 'so many open pieces');
    },
    costs: ['bench shown ready', 'pieces judged right', 'cause named', 'lot decided right'],
  },
  'low-values': {
    right: async (played) => {
      await played.through('change the leads');
      await played.name('zero no longer holds');
      return played.decide('accepted');
    },
    wrong: async (played) => {
      await played.checks();
      await played.read();
      await played.name('another value throughout');
      return played.decide('on-hold', 'the lot is too high');
    },
    costs: ['bench shown ready', 'pieces judged right', 'cause named', 'lot decided right'],
  },
  'eight-boards': {
    right: async (played) => {
      await played.checks();
      await played.read(1);
      await played.voidLast('still in its circuit');
      await played.act('lift one end');
      await played.through();
      await played.name('part still in circuit');
      return played.decide('accepted');
    },
    wrong: async (played) => {
      await played.through();
      await played.name('another value throughout');
      return played.decide('not-accepted');
    },
    costs: ['pieces judged right', 'cause named', 'lot decided right'],
  },
  'six-supplies': {
    right: async (played) => {
      await played.through('switch off and discharge');
      await played.name('part energised');
      return played.decide('accepted');
    },
    // Stops at the check that fails and finds out nothing.
    wrong: async (played) => {
      await played.checks();
      await played.name('bad contact');
      return played.decide('on-hold', 'the check does not pass');
    },
    costs: ['bench shown ready', 'pieces judged right', 'cause named', 'lot decided right'],
  },
  'high-values': {
    right: async (played) => {
      await played.checks();
      await played.read(1);
      await played.voidLast('both hands were on the tips');
      await played.act('take the hands off the tips');
      await played.through();
      await played.name('fingers across the tips');
      return played.decide('accepted');
    },
    wrong: async (played) => {
      await played.through();
      await played.name('value of another decade');
      return played.decide('not-accepted');
    },
    costs: ['pieces judged right', 'cause named', 'lot decided right'],
  },
  'string-of-ten': {
    right: async (played) => {
      await played.through();
      await played.name('an element open', 7);
      return played.decide('not-accepted');
    },
    // The right cause at the wrong place.
    wrong: async (played) => {
      await played.through();
      await played.name('an element open', 6);
      return played.decide('not-accepted');
    },
    costs: ['cause named'],
  },
  'bank-of-six': {
    right: async (played) => {
      await played.checks();
      await played.read(1);
      await played.voidLast('all six are beside each other');
      await played.act('lift one end');
      await played.through();
      await played.name('an element shorted', 4);
      return played.decide('not-accepted');
    },
    wrong: async (played) => {
      await played.through();
      await played.name('an element shorted', 1);
      return played.decide('not-accepted');
    },
    costs: ['pieces judged right', 'cause named'],
  },
  'bridge-of-four': {
    right: async (played) => {
      await played.checks();
      await played.read(1);
      await played.voidLast('the others are beside it');
      await played.act('lift one end');
      await played.through();
      await played.name('an element of another value', 3);
      return played.decide('not-accepted');
    },
    wrong: async (played) => {
      await played.through();
      await played.name('another value throughout', 1);
      return played.decide('not-accepted');
    },
    costs: ['pieces judged right', 'cause named'],
  },
  'three-poles': {
    right: async (played) => {
      await played.through();
      await played.name('bad contact', 5);
      return played.decide('not-accepted');
    },
    wrong: async (played) => {
      await played.checks(true);
      await played.read();
      await played.checks(true);
      await played.name('zero no longer holds', 4);
      return played.decide('not-accepted');
    },
    costs: ['bench shown ready', 'cause named'],
  },
  'three-operators': {
    right: async (played) => {
      await played.through();
      await played.name('handling of one operator', 2);
      return played.decide('studied');
    },
    wrong: async (played) => {
      await played.checks();
      await played.read(9);
      await played.name('meter drifts', 1);
      return played.decide('on-hold', 'it scatters too much');
    },
    costs: ['bench shown ready', 'pieces judged right', 'cause named', 'lot decided right'],
  },
};

/** What has to be done at the bench; without it the fault would not have shown. */
const ACTS: Record<string, readonly string[]> = {
  'twenty-pieces': ['let the meter warm up'],
  'bench-by-the-window': ['change the leads'],
  'low-values': ['change the leads'],
  'eight-boards': ['lift one end'],
  'six-supplies': ['switch off and discharge'],
  'high-values': ['take the hands off the tips'],
  'bank-of-six': ['lift one end'],
  'bridge-of-four': ['lift one end'],
};

/** Exercises whose readings were suspect meanwhile. */
const SUSPECT = ['twenty-pieces', 'bench-by-the-window', 'low-values'];

describe('an exercise of the practice tray', () => {
  it('is there for every file that is shipped', () => {
    expect(
      shippedExercises()
        .map(({ open }) => open.name)
        .sort(),
    ).toEqual(Object.keys(PLAYED).sort());
  });

  it.each(Object.keys(PLAYED))('%s, done as it is meant to be, has all its points', async (name) => {
    const played = await Played.begin(name);
    const marks = await PLAYED[name]?.right(played);
    expect(marks).toEqual(FULL);
    const run = await played.now();
    expect(run.practised.acts.map(({ act }) => act)).toEqual(ACTS[name] ?? []);
    expect(run.tally.suspect > 0).toBe(SUSPECT.includes(name));
    expect(run.meter?.identity.simulated).toBe(true);
  });

  it.each(Object.keys(PLAYED))('%s, done in its typical wrong way, loses the points that are for it', async (name) => {
    const { wrong, costs } = PLAYED[name] as (typeof PLAYED)[string];
    const marks = await wrong(await Played.begin(name));
    const lost = Object.keys(FULL).filter((mark) => (marks[mark] ?? 0) < 1);
    expect(lost).toEqual([...costs]);
  });

  it('gives no points for readiness or pieces to a lot that is put on hold at once, though holding it is right', async () => {
    const played = await Played.begin('fifty-pieces');
    await played.name('sorted lot');
    const marks = await played.decide('on-hold', 'no time');
    expect(marks).toMatchObject({ 'bench shown ready': 0, 'pieces judged right': 0, 'lot decided right': 1 });
  });

  it('has the in-circuit readings of its bridge from a circuit that is worked out', () => {
    const bridge = shippedExercises().find(({ open }) => open.name === 'bridge-of-four');
    const { lot, circuit } = readScenario(bridge?.truth.scenario);
    const [a, b, c, d] = lot.pieces;
    const ring = `R1 a b ${a}\nR2 b c ${b}\nR3 c d ${c}\nR4 d a ${d}`;
    const read = (from: string, to: string) => Number(cornersOf(readNetwork(ring), [from, to]).nominal.ohms.toFixed(4));
    expect(circuit?.reads).toEqual([read('a', 'b'), read('b', 'c'), read('c', 'd'), read('d', 'a')]);
  });
});
