import { setImmediate as turn } from 'node:timers/promises';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Problem, problem } from '../../core/problem/problem.ts';
import { Session } from '../../instruments/scpi/session.ts';
import type { Connection } from '../../instruments/transport/connection.ts';
import { Lines } from '../../instruments/transport/lines.ts';
import { one, scriptedInstrument, several, withRegister } from './scriptedInstrument.ts';

/** What becomes of one answer on its way. Instruments answer in order: none overtakes another. */
type Fate =
  | { kind: 'whole'; delay: number }
  | { kind: 'lost' }
  | { kind: 'doubled'; delay: number; gap: number }
  /** In pieces, with a pause between; all of it arrives. */
  | { kind: 'split'; delay: number; at: number; pause: number }
  /** Cut in two lines. */
  | { kind: 'torn'; delay: number; at: number };

interface Schedule {
  /** The fate of the first answer, the second and so on; beyond that all arrive whole at once. */
  fates: Fate[];
  /** What each question waits for its answer, in milliseconds. */
  deadlines: number[];
  /** How the tokens look, from what nobody mixes up to what looks like the numbers that prove step. */
  token: 'text' | 'NR3' | 'NR1';
  /** Feeds the session's choice of numbers. */
  draws: number[];
}

// Up to many times the deadline, most of them around it.
const delay = fc.oneof(fc.constant(0), fc.nat(60), fc.nat(400), fc.nat(4000));
const fate: fc.Arbitrary<Fate> = fc.oneof(
  { weight: 3, arbitrary: fc.record({ kind: fc.constant('whole' as const), delay }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('lost' as const) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('doubled' as const), delay, gap: delay }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('split' as const), delay, at: fc.nat(12), pause: delay }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('torn' as const), delay, at: fc.nat(12) }) },
);
const schedule: fc.Arbitrary<Schedule> = fc.record({
  fates: fc.array(fate, { maxLength: 24 }),
  deadlines: fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 8 }),
  token: fc.constantFrom('text', 'NR3', 'NR1'),
  draws: fc.array(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), { minLength: 1, maxLength: 8 }),
});

function tokenOf(question: number, form: Schedule['token']): string {
  if (form === 'text') return `<${question}>`;
  // Small enough to look like a number of eight bits.
  return form === 'NR1' ? String(question * 17) : `+${question}.70213E+03`;
}

/** What a meter is asked together with each reading, and what it says then. */
const BESIDE = new Map([
  ['FUNC?', '"RES"'],
  ['*ESR?', '0'],
]);

/** An instrument that answers question `Qn?` with its token, on a line that does with the answers as the schedule says. */
function fatefulInstrument({ fates, token }: Schedule): Connection {
  const respond = withRegister((unit) => {
    const question = /^Q(\d+)\?$/.exec(unit)?.[1];
    return question === undefined ? (BESIDE.get(unit) ?? null) : tokenOf(Number(question), token);
  });
  let answered = 0;
  let freeAt = 0;
  const { connection } = scriptedInstrument((message, send) => {
    const answer = respond(message);
    if (answer === null) return;
    const sendIn = (milliseconds: number, text: string) => {
      freeAt = Math.max(freeAt, performance.now()) + milliseconds;
      setTimeout(send, freeAt - performance.now(), text);
    };
    const found = fates[answered++] ?? { kind: 'whole', delay: 0 };
    const line = `${answer}\n`;
    if (found.kind === 'lost') return;
    if (found.kind === 'whole') return sendIn(found.delay, line);
    if (found.kind === 'doubled') {
      sendIn(found.delay, line);
      return sendIn(found.gap, line);
    }
    const at = Math.min(found.at, answer.length);
    sendIn(found.delay, line.slice(0, at) + (found.kind === 'torn' ? '\n' : ''));
    sendIn(found.kind === 'torn' ? 0 : found.pause, line.slice(at));
  });
  return connection;
}

interface Asked {
  /** Answers that were taken for those of their question and were another's. */
  wrong: string[];
  right: number;
  problems: Set<string>;
}

/** What was once paired wrongly. */
const ONCE_WRONG: Schedule[] = [
  // The line before came twice and the answer not at all.
  {
    fates: [{ kind: 'whole', delay: 0 }, { kind: 'doubled', delay: 1, gap: 0 }, { kind: 'lost' }],
    deadlines: [1],
    token: 'text',
    draws: [0],
  },
  { fates: [{ kind: 'doubled', delay: 0, gap: 0 }, { kind: 'lost' }], deadlines: [1], token: 'text', draws: [0] },
  // So many proofs were held back that their numbers were used again.
  {
    fates: [
      { kind: 'whole', delay: 668 },
      { kind: 'torn', delay: 3742, at: 0 },
      { kind: 'whole', delay: 2 },
      { kind: 'split', delay: 2611, at: 0, pause: 1575 },
      { kind: 'split', delay: 12, at: 0, pause: 2391 },
      { kind: 'whole', delay: 0 },
      { kind: 'split', delay: 0, at: 0, pause: 0 },
      { kind: 'doubled', delay: 1, gap: 0 },
    ],
    deadlines: [1, 1, 1, 1],
    token: 'text',
    draws: [0],
  },
];

type Ask = (question: string, milliseconds: number) => Promise<string>;

/** Asks question after question and looks whose token each accepted answer carries. */
async function askAll(ask: Ask, { deadlines, token }: Schedule): Promise<Asked> {
  const asked: Asked = { wrong: [], right: 0, problems: new Set() };
  for (const [question, milliseconds] of deadlines.entries()) {
    try {
      const answer = await ask(`Q${question + 1}?`, milliseconds);
      const wanted = tokenOf(question + 1, token);
      if (answer === wanted) asked.right++;
      else asked.wrong.push(`Q${question + 1}? was answered ${answer}`);
    } catch (failure) {
      if (!(failure instanceof Problem)) throw failure;
      asked.problems.add(failure.code);
    }
  }
  return asked;
}

const RUNS = 500;
const MOST_IDLE_TURNS = 20;

/** Lets the time pass that everything waits for. */
async function whileTimePasses<T>(work: Promise<T>): Promise<T> {
  let isDone = false;
  const done = () => {
    isDone = true;
  };
  work.then(done, done);
  for (let idleTurns = 0; !isDone; idleTurns++) {
    // What streams hand on takes turns of the event loop but no time.
    if (idleTurns > MOST_IDLE_TURNS) throw new Error('it hangs: nothing is waited for any more');
    await turn();
    if (vi.getTimerCount() === 0) continue;
    await vi.advanceTimersToNextTimerAsync();
    idleTurns = 0;
  }
  return work;
}

type Way = (schedule: Schedule) => Promise<Asked>;

type SessionAsk = (session: Session, question: string, milliseconds: number) => Promise<string>;

const withSession =
  (ways: typeof several, ask: SessionAsk): Way =>
  async (schedule) => {
    let drawn = 0;
    const session = new Session(fatefulInstrument(schedule), {
      random: () => schedule.draws[drawn++ % schedule.draws.length] ?? 0,
      ways,
      onLost: () => undefined,
    });
    const asked = await askAll((question, milliseconds) => ask(session, question, milliseconds), schedule);
    await session.close();
    return asked;
  };

const single: SessionAsk = async (session, question, milliseconds) => {
  const [answer = ''] = await session.ask([question], milliseconds);
  return answer;
};

/** As with a meter that keeps the register in memory that wears out: no number is written for each question. */
const spared =
  (ask: SessionAsk): SessionAsk =>
  (session, question, milliseconds) => {
    session.spareTheRegister();
    return ask(session, question, milliseconds);
  };

const alone: SessionAsk = (session, question, milliseconds) => session.askAlone(question, milliseconds);

const withFunctionAndEvents: SessionAsk = async (session, question, milliseconds) => {
  const [answer = '', ...beside] = await session.ask([question, ...BESIDE.keys()], milliseconds);
  // As a meter does, that looks at them before it takes the reading.
  if (beside.join() !== [...BESIDE.values()].join()) throw problem('answer-out-of-step', question, beside.join());
  return answer;
};

/** Question out, next line in, on a time-out go on: what a session would be without proof and pairing. */
const naively: Way = async (schedule) => {
  let take: ((text: string) => void) | null = null;
  const handlers = { line: (text: string) => take?.(text), overlong: () => undefined, lost: () => undefined };
  const lines = new Lines(fatefulInstrument(schedule), handlers);
  const ask: Ask = (question, milliseconds) =>
    new Promise((resolve, reject) => {
      const timer = setTimeout(reject, milliseconds, problem('meter-silent', question, milliseconds));
      take = (text) => {
        clearTimeout(timer);
        take = null;
        resolve(text);
      };
      lines.send(question);
    });
  const asked = await askAll(ask, schedule);
  await lines.close();
  return asked;
};

describe('whatever becomes of the answers', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  const property = (way: Way, all: Asked[] = []) =>
    fc.asyncProperty(schedule, async (given) => {
      const asked = await whileTimePasses(way(given));
      all.push(asked);
      return asked.wrong.length === 0;
    });

  it.each([
    ['several commands in a message', withSession(several, single)],
    ['one command in a message', withSession(one, single)],
    ['a question alone', withSession(several, alone)],
    ['several commands, as a reading is taken', withSession(several, withFunctionAndEvents)],
    ['one command, as a reading is taken', withSession(one, withFunctionAndEvents)],
    ['the register spared', withSession(several, spared(single))],
    ['the register spared, as a reading is taken', withSession(several, spared(withFunctionAndEvents))],
  ])('an accepted answer is that of its own question (%s)', async (_what, way) => {
    const all: Asked[] = [];
    await fc.assert(property(way, all), { numRuns: RUNS, examples: ONCE_WRONG.map((given) => [given]) });
    // Both happened often, or nothing was shown.
    const accepted = all.reduce((sum, { right }) => sum + right, 0);
    const refused = new Set(all.flatMap(({ problems }) => [...problems]));
    expect(accepted).toBeGreaterThan(RUNS / 2);
    expect([...refused]).toEqual(expect.arrayContaining(['meter-silent', 'answer-out-of-step']));
  });

  it('a loop without proof and pairing takes answers for those of other questions', async () => {
    const found = await fc.check(property(naively), { numRuns: RUNS });
    const [least] = found.counterexample ?? [];
    expect(least && (await whileTimePasses(naively(least))).wrong).not.toEqual([]);
    // The session knows this very case for what it is.
    for (const way of [withSession(several, single), withSession(one, single)]) {
      expect(least && (await whileTimePasses(way(least))).wrong).toEqual([]);
    }
  });

  it('the answers that arrive in time on a good line are all accepted', async () => {
    const good: Schedule = { fates: [], deadlines: Array(20).fill(50), token: 'NR1', draws: [0.1, 0.7] };
    for (const way of [withSession(several, single), withSession(one, withFunctionAndEvents), naively]) {
      expect(await whileTimePasses(way(good))).toMatchObject({ right: 20, wrong: [] });
    }
  });
});
