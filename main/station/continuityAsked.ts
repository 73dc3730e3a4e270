import Big from 'big.js';
import { signed } from '../../core/certificate/closedFile.ts';
import type { Signer } from '../../core/certificate/signature.ts';
import { continuityFactsOf, previewPoints } from '../../core/continuity/continuityClaim.ts';
import { continuityFile } from '../../core/continuity/continuityFile.ts';
import { CONTINUITY_CLOSED } from '../../core/continuity/continuityFormat.ts';
import {
  type ContinuityCommand,
  decideContinuity,
  mustReadPoint,
  mustTakeLeadCheck,
} from '../../core/continuity/decide.ts';
import type { ContinuityEvent } from '../../core/continuity/event.ts';
import type { PointMeasured } from '../../core/continuity/judgePoint.ts';
import {
  LEAD_CHANGE_OHMS,
  type LeadShown,
  NO_VOLTAGE_WORD,
  SHORTED_READINGS,
} from '../../core/continuity/leadCheck.ts';
import type { Point } from '../../core/continuity/point.ts';
import type {
  Answers,
  CheckedQuestion,
  ContinuityEntry,
  ContinuityLink,
  News,
  RequestName,
  Stepping,
} from '../../core/contract/contract.ts';
import { Problem, type ProblemCode, problem } from '../../core/problem/problem.ts';
import type { Meter, Reading } from '../../instruments/meter/meter.ts';
import { nameSafely, type Written } from '../certificates/writeUnderFreeName.ts';
import { continuityListed } from '../record/continuityRows.ts';
import type { Record } from '../record/record.ts';
import { now } from './clock.ts';
import { ContinuitySeat } from './continuitySeat.ts';
import { ContinuityStepping, textsOf } from './continuityStepping.ts';
import { KeptContinuity } from './keptContinuity.ts';

type Asked = Extract<
  RequestName,
  | 'preview-continuity'
  | 'receive-continuity'
  | 'continuity-runs'
  | 'open-continuity'
  | 'connect-continuity'
  | 'release-continuity'
  | 'confirm-continuity'
  | 'check-continuity'
  | 'read-point'
  | 'start-stepping'
  | 'stop-stepping'
  | 'say-now'
  | 'skip-point'
  | 'void-point'
  | 'decide-continuity'
  | 'lift-continuity-hold'
  | 'write-continuity'
>;

interface Surroundings {
  record: Record;
  tell: (news: News) => void;
  version: string;
  signer: Signer;
  clock: () => number;
  ownDialects: ConstructorParameters<typeof ContinuitySeat>[0]['ownDialects'];
  dataOf: ConstructorParameters<typeof ContinuitySeat>[0]['dataOf'];
  /** Whatever else has a meter at this station lets it go. */
  freeMeter: () => Promise<void>;
  /** Writes a text under a free name. */
  writeFile: (name: string, text: string) => Promise<Written & { text: string }>;
}

/** What a station has of continuity runs. */
export interface ContinuityDesk {
  doing: { [N in Asked]: (question: CheckedQuestion<N>) => Answers[N] | Promise<Answers[N]> };
  readonly wiring: { link: ContinuityLink; stepping: Stepping | null };
  /** Lets the meter go. Never fails. */
  release: (why: Problem | null) => Promise<void>;
  /** Brings the rows of runs up to them. */
  settle: () => void;
}

/** After these nothing that was shown of the leads holds any more. */
const LAPSING: ReadonlySet<ProblemCode> = new Set(['function-changed', 'meter-restarted']);

/** What the station answers of continuity runs; commands go one way: decide, durable, told. */
export function continuityDesk(around: Surroundings): ContinuityDesk {
  const { record, tell, clock } = around;
  const runs = new KeptContinuity(record);
  let meterIsAsked = false;
  /** What the record had no room for and must know before anything else happens in the run. */
  const owed = new Map<number, ContinuityEvent[]>();

  const keep = (number: number, events: readonly ContinuityEvent[]): ContinuityEntry[] => {
    const entries = runs.append(number, events);
    for (const entry of entries) tell({ kind: 'continuity-entry', entry });
    return entries;
  };

  const act = (number: number, command: ContinuityCommand): ContinuityEntry[] => {
    const debt = owed.get(number);
    if (debt) keep(number, debt);
    owed.delete(number);
    const isNew = command.type === 'receive';
    const outcome = decideContinuity(isNew ? null : runs.now(number), command, now());
    if (outcome instanceof Problem) throw outcome;
    try {
      return keep(number, outcome);
    } catch (thrown) {
      if (outcome.some(speaksAgainst)) owed.set(number, outcome);
      throw thrown;
    }
  };

  const seat = new ContinuitySeat({
    runOf: (number) => runs.now(number),
    act,
    tell: (link) => tell({ kind: 'continuity-link', link }),
    ownDialects: around.ownDialects,
    dataOf: around.dataOf,
    onLost: (why) => stepping.endSoon(why),
  });

  /** Has the meter for one thing at a time; what shows that the meter is not as it was is kept as well. */
  async function withMeter<T>(number: number, use: () => Promise<T>): Promise<T> {
    if (meterIsAsked) throw problem('reading-under-way');
    meterIsAsked = true;
    try {
      return await use();
    } catch (thrown) {
      if (thrown instanceof Problem && LAPSING.has(thrown.code)) act(number, { type: 'lapse', why: thrown.what });
      throw thrown;
    } finally {
      meterIsAsked = false;
    }
  }

  const stepping = new ContinuityStepping({
    runOf: (number) => runs.now(number),
    meterOf: (number) => seat.meterOf(number),
    withMeter,
    record: (number, point, by, measured) => void act(number, { type: 'record-point', point, by, measured }),
    tell: (state) => tell({ kind: 'stepping', stepping: state }),
    clock,
  });

  async function release(why: Problem | null): Promise<void> {
    await stepping.stop(why);
    await seat.release();
  }

  async function check({
    run: number,
    by,
    check,
    word,
  }: CheckedQuestion<'check-continuity'>): Promise<{ entry: ContinuityEntry }> {
    mustTakeLeadCheck(runs.now(number), check);
    await stepping.stop(null);
    return withMeter(number, async () => {
      const run = runs.now(number);
      const meter = seat.meterOf(number);
      mustTakeLeadCheck(run, check);
      const shown = await showLeads(meter, check, run.points[0] as Point, word ?? false);
      const [entry] = act(number, { type: 'check-leads', by, check, shown });
      return { entry: entry as ContinuityEntry };
    });
  }

  async function readPoint({ run: number, point }: CheckedQuestion<'read-point'>): Promise<{ entry: ContinuityEntry }> {
    mustReadPoint(runs.now(number), point);
    await stepping.stop(null);
    return withMeter(number, async () => {
      const meter = seat.meterOf(number);
      const wanted = mustReadPoint(runs.now(number), point);
      await meter.hands?.touchPair(wanted);
      const measured = await readSteady(meter);
      const [entry] = act(number, { type: 'record-point', point, by: 'asked', measured });
      return { entry: entry as ContinuityEntry };
    });
  }

  /** Changes which point is next, so no contact that goes on may count for it. */
  function actBeside(number: number, command: ContinuityCommand): globalThis.Record<string, never> {
    act(number, command);
    stepping.disturb(number);
    return {};
  }

  async function write(number: number): Promise<Answers['write-continuity']> {
    const run = runs.now(number);
    if (!run.decided) throw problem('run-undecided');
    const { version, signer } = around;
    const file = continuityFile({ version, publicKey: signer.publicKey, at: now(), number, run });
    const name = `continuity-run-${number}-${nameSafely(run.title, 'wiring')}`;
    const written = await around.writeFile(name, signed(file, CONTINUITY_CLOSED, signer));
    act(number, { type: 'note-certificate', file: written.file, sha256: written.sha256 });
    return written;
  }

  return {
    get wiring() {
      return { link: seat.link, stepping: stepping.state };
    },
    release,
    settle: () => runs.settle(),
    doing: {
      'preview-continuity': ({ csv }) => previewPoints(csv),
      'receive-continuity': ({ claim }) => {
        const facts = continuityFactsOf(claim);
        const run = record.nextRun();
        act(run, { type: 'receive', facts });
        return { run };
      },
      'continuity-runs': (asked) => {
        const { runs: listed, total } = record.continuity.list(asked);
        // Of a run that is under way the row is as it was before its latest readings.
        const isNow = listed.map((row) => {
          const run = runs.peek(row.run);
          return run ? continuityListed(row.run, run) : row;
        });
        return { runs: isNow, total };
      },
      'open-continuity': ({ run }) => ({ entries: runs.entries(run) }),
      'connect-continuity': async ({ run, address }) => {
        runs.now(run);
        await stepping.stop(problem('capture-ended', 'the meter is connected anew'));
        await around.freeMeter();
        await seat.connect(run, address);
        return { link: seat.link };
      },
      'release-continuity': async () => {
        await release(null);
        return { link: seat.link };
      },
      'confirm-continuity': ({ run, by, cautions }) => {
        seat.meterOf(run);
        act(run, { type: 'confirm-cautions', by, cautions });
        return {};
      },
      'check-continuity': (asked) => check(asked),
      'read-point': (asked) => readPoint(asked),
      'start-stepping': async ({ run }) => {
        await stepping.start(run);
        return {};
      },
      'stop-stepping': async () => {
        await stepping.stop(null);
        return {};
      },
      'say-now': ({ run, state }) => {
        stepping.sayNow(run, state ?? null);
        return {};
      },
      'skip-point': ({ run, ...rest }) => actBeside(run, { type: 'skip-point', ...rest }),
      'void-point': ({ run, ...rest }) => actBeside(run, { type: 'void-reading', ...rest }),
      'decide-continuity': async ({ run, approvedBy = null, ...rest }) => {
        await stepping.stop(null);
        act(run, { type: 'decide', approvedBy, ...rest });
        return {};
      },
      'lift-continuity-hold': ({ run, ...rest }) => actBeside(run, { type: 'lift-hold', ...rest }),
      'write-continuity': ({ run }) => write(run),
    },
  };
}

/** Whether readings would count that must not, if this were forgotten. */
function speaksAgainst(event: ContinuityEvent): boolean {
  if (event.type === 'continuity-leads-checked') return event.outcome === 'failed';
  return event.type === 'continuity-checks-lapsed';
}

/** Measures what one check of the leads needs. At a real bench a person's hands hold the probes as it wants them. */
async function showLeads(
  meter: Meter,
  check: CheckedQuestion<'check-continuity'>['check'],
  first: Point,
  word: boolean,
): Promise<LeadShown[]> {
  const { hands } = meter;
  switch (check) {
    case 'no-voltage': {
      if (word) return [{ what: 'word', raw: NO_VOLTAGE_WORD }];
      await hands?.touchPair(first);
      await hands?.turnTo('dc-volts');
      try {
        const { raw } = await meter.readOther('dc-volts');
        return [{ what: 'dc-volts', raw }];
      } finally {
        await hands?.turnTo('2-wire');
        await hands?.lift();
      }
    }
    case 'open-leads': {
      await hands?.lift();
      const reading = await meter.read();
      return [{ what: '2-wire', raw: reading.raw }];
    }
    case 'shorted-leads': {
      await hands?.short();
      const shown: LeadShown[] = [];
      while (shown.length < SHORTED_READINGS) shown.push({ what: '2-wire', raw: (await meter.read()).raw });
      await hands?.lift();
      return shown;
    }
  }
}

/** Two readings in a row agree within so much of the value, or within what leads may change by. */
const STEADY_SHARE = 0.02;

/** One reading of what is held, on any range where the set one shows overload. @throws problem continuity-unsteady, those of Meter.glance */
async function readSteady(meter: Meter): Promise<PointMeasured> {
  // Of a talker a whole line that began by now.
  await meter.read();
  const first = await meter.glance();
  const second = await meter.glance();
  if (first.kind !== second.kind) throw problem('continuity-unsteady', first.raw, second.raw);
  if (second.kind === 'value') {
    mustAgree(first, second);
    return { ...textsOf(second), range: 'set' };
  }
  const wide = await meter.glanceOnAnyRange();
  return { ...textsOf(wide), range: 'automatic' };
}

function mustAgree(first: Reading, second: Reading): void {
  if (first.kind !== 'value' || second.kind !== 'value') return;
  const apart = new Big(first.ohms).minus(second.ohms).abs();
  const most = new Big(second.ohms).abs().times(STEADY_SHARE).plus(LEAD_CHANGE_OHMS);
  if (apart.gt(most)) throw problem('continuity-unsteady', first.raw, second.raw);
}
