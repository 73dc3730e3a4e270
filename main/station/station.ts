import { randomInt } from 'node:crypto';
import { join } from 'node:path';
import type * as z from 'zod';
import {
  type Answers,
  type CheckedQuestion,
  type Entry,
  type News,
  type RequestName,
  requests,
  type StationClient,
} from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import { type Command, decide, mustBeOpen, mustTakeCheck, mustTakeReadings } from '../../core/inspection/decide.ts';
import type { InspectionEvent, MeterFacts } from '../../core/inspection/event.ts';
import { factsOf, withSeed } from '../../core/inspection/lotClaim.ts';
import { nextPiece, pieceToPlace, type Run } from '../../core/inspection/run.ts';
import { asProblem, Problem, type ProblemCode, problem } from '../../core/problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../../core/progress/progress.ts';
import { LARGEST_SEED } from '../../core/sampling/positions.ts';
import type { Dialect } from '../../instruments/meter/dialect.ts';
import { findMeter } from '../../instruments/meter/findMeter.ts';
import type { Identity } from '../../instruments/meter/meter.ts';
import { readOwnDialects } from '../../instruments/meter/ownDialects.ts';
import { shippedDialects } from '../../instruments/meter/shippedDialects.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { listPorts } from '../../instruments/transport/ports.ts';
import { openStationKey, type StationKey } from '../certificates/stationKey.ts';
import { type Written, writeUnderFreeName } from '../certificates/writeUnderFreeName.ts';
import { openRecord, type Record } from '../record/record.ts';
import { benchFor } from './benchFor.ts';
import { benchMeterData } from './benchMeterData.ts';
import { CaptureSession } from './captureSession.ts';
import { certificatesAsked } from './certificatesAsked.ts';
import { now } from './clock.ts';
import { continuityDesk } from './continuityAsked.ts';
import { ContinuityWatch } from './continuityWatch.ts';
import type { DataFolders } from './dataFolder.ts';
import { historyAsked } from './historyAsked.ts';
import { KeptRuns } from './keptRuns.ts';
import { dataOfMeter, keepMeterData } from './knownMeters.ts';
import { knownParts } from './knownParts.ts';
import { keepReference, readReferences } from './knownReferences.ts';
import { liveAsked } from './liveAsked.ts';
import { type GoingOn, LongWorks } from './longWorks.ts';
import { lotHistory } from './lotHistory.ts';
import { MeterSeat } from './meterSeat.ts';
import { OpenedRuns } from './openedRuns.ts';
import { partsAsked } from './partsAsked.ts';
import { practiceAsked } from './practiceAsked.ts';
import { readyingRecord } from './readyingRecord.ts';
import { latestRuns, recordAsked } from './recordAsked.ts';
import { resultsAsked } from './resultsAsked.ts';
import { seriesAsked, seriesOfClaim } from './seriesAsked.ts';
import { showCheck } from './showCheck.ts';
import { storyOfRun } from './storyOfRun.ts';

export interface StationOptions {
  folders: DataFolders;
  version: string;
  /** Where entries are kept; the record in the data folder unless a measurement of speed gives another. */
  record?: Record;
  /** The record was made ready already (openingStation.ts). */
  isReady?: boolean;
  /** Told of the entries as they are checked. */
  tell?: TellProgress;
  /** Milliseconds of a clock that only goes forward, by which readings follow each other; this process's own unless a test has another. */
  clock?: () => number;
}

/**
 * The station: record, meter and runs together behind the contract. `ask` is its door: every question is checked there.
 * Commands go one way: `decide`, then durable in the record, then told to everybody.
 */
export interface Station extends StationClient {
  /**
   * Writes a certificate into a file of the caller's choice.
   * @param asked what `write-certificate` takes @throws certificate-exists, certificate-unwritable, run-undecided, work-stopped
   */
  writeCertificate(asked: CheckedQuestion<'write-certificate'>, file?: string): Promise<Answers['write-certificate']>;
  /** Lets the meter go, then closes the record. */
  close(): Promise<void>;
}

/** After these nothing that was shown of the bench holds any more. */
const EXPIRING: ReadonlySet<ProblemCode> = new Set(['readiness-expired', 'function-changed', 'meter-restarted']);

/** Whether readings would count that must not, if this were forgotten. */
function speaksAgainst(event: InspectionEvent): boolean {
  if (event.type === 'bench-checked') return event.outcome === 'failed';
  return event.type === 'run-interrupted' || event.type === 'readiness-expired';
}

/** Opens the station on its record. @throws problems record-in-use, record-unusable, record-altered, key-exposed, key-unusable */
export function openStation(options: StationOptions): Station {
  const { folders, version, record = openRecord(folders.data), clock = () => performance.now() } = options;
  if (!options.isReady) makeReady(record, options.tell ?? TELL_NOBODY);
  const signer = signerOf(folders, record);
  const listeners = new Set<(news: News) => void>();
  let meterIsAsked = false;
  /** Ends the search for a meter that is under way. */
  let finding = new AbortController();

  const tell = (news: News): void => {
    for (const hear of listeners) {
      try {
        hear(news);
      } catch (thrown) {
        // What is on the disk has happened, whatever becomes of telling it.
        process.emitWarning(asProblem(thrown));
      }
    }
  };

  const works = new LongWorks(tell);

  /** What the record had no room for and must know before anything else happens in the run. */
  const owed = new Map<number, InspectionEvent[]>();

  const runs = new KeptRuns(record, (number) => isAtTheMeter(number) || owed.has(number));
  /** At once; a run that is not kept is folded here and now, so whoever can wait loads it before. */
  const runOf = (number: number): Run => runs.now(number).run;
  const opened = new OpenedRuns(record, (number) => runs.now(number));
  const { outcomesOf } = record.rows;

  /** Keeps, tells. Nobody hears of an event before it is on the disk. */
  const keep = (number: number, events: readonly InspectionEvent[]): Entry[] => {
    const entries = runs.append(number, events);
    for (const entry of entries) tell({ kind: 'entry', entry });
    return entries;
  };

  /** Decides and keeps; before that what is owed. */
  const act = (number: number, command: Command): Entry[] => {
    const debt = owed.get(number);
    if (debt) keep(number, debt);
    owed.delete(number);
    const outcome = decide(runs.find(number)?.run ?? null, command, now());
    if (outcome instanceof Problem) throw outcome;
    try {
      return keep(number, outcome);
    } catch (thrown) {
      if (outcome.some(speaksAgainst)) owed.set(number, outcome);
      throw thrown;
    }
  };

  const parts = knownParts(folders.data);
  const dialectFolder = join(folders.data, 'dialects');
  const ownDialects = async () => (await readOwnDialects(dialectFolder)).dialects;
  const dataOf = async (identity: Identity, address: string) =>
    identity.simulated ? benchMeterData(now().slice(0, 10)) : dataOfMeter(folders.data, { identity, address });
  const seat = new MeterSeat({
    runOf,
    act,
    tell: (link) => tell({ kind: 'link', link }),
    benchOf: async (number, run, address) => (run.practice ? practice.benchOf(run) : benchFor(number, run, address)),
    ownDialects,
    dataOf,
  });

  /** Has the meter for one thing at a time; what shows that the bench is not as it was is kept as well. */
  async function withMeter<T>(number: number, use: () => Promise<T>): Promise<T> {
    if (meterIsAsked) throw problem('reading-under-way');
    meterIsAsked = true;
    try {
      return await use();
    } catch (thrown) {
      if (thrown instanceof Problem && EXPIRING.has(thrown.code)) {
        act(number, { type: 'expire-readiness', why: thrown.what });
      }
      throw thrown;
    } finally {
      meterIsAsked = false;
    }
  }

  const practice = practiceAsked({
    ...{ folder: folders.data, record, runOf, act },
    meterOf: (number) => seat.meterOf(number),
    withMeter: (number, use) => capture.aside(() => withMeter(number, use)),
  });

  const capture: CaptureSession = new CaptureSession({
    runOf,
    meterOf: (number) => seat.meterOf(number),
    withMeter,
    mustTakeReadings: (number) => mustTakeReadings(runOf(number), now()),
    handOver: (number) => practice.handOver(number),
    record: (number, measured) => {
      const piece = nextPiece(runOf(number));
      act(number, { type: 'record-reading', measured });
      return piece;
    },
    tell: (live) => tell({ kind: 'live', live }),
    clock,
  });

  function isAtTheMeter(number: number): boolean {
    const { link } = seat;
    return (link.state !== 'none' && link.run === number) || capture.live?.run === number;
  }

  const continuity = new ContinuityWatch({
    ownDialects,
    tell: (state) => tell({ kind: 'continuity', ...state }),
    clock,
  });

  const wiring = continuityDesk({
    record,
    tell,
    version,
    signer,
    clock,
    ownDialects,
    dataOf,
    freeMeter: async () => {
      if (meterIsAsked && !capture.isOn) throw problem('reading-under-way');
      await capture.stop(problem('capture-ended', 'a continuity run has the meter now'));
      await continuity.stop();
      await seat.release();
    },
    writeFile: writeResult,
  });

  /** Before the meter gets another task than pieces one after the other. */
  async function endLive(by: string): Promise<void> {
    await capture.stop(problem('capture-ended', by));
    await continuity.stop();
    await wiring.release(problem('capture-ended', by));
  }

  async function releaseAll(): Promise<void> {
    await wiring.release(problem('capture-ended', 'the meter tells closed from open now'));
    await seat.release();
  }

  function takeReading(number: number): Promise<{ entry: Entry }> {
    return withMeter(number, async () => {
      const run = runOf(number);
      mustTakeReadings(run, now());
      const meter = seat.meterOf(number);
      await practice.handOver(number);
      await meter.hands?.place(pieceToPlace(run));
      const measured = await meter.read();
      const [entry] = act(number, { type: 'record-reading', measured });
      return { entry: entry as Entry };
    });
  }

  async function checkBench(asked: CheckedQuestion<'check-bench'>, going: GoingOn): Promise<{ entry: Entry }> {
    const { run: number, by, check } = asked;
    if (capture.isOn) {
      mustTakeCheck(runOf(number), check, now());
      await capture.stop(problem('capture-ended', 'a check of the bench has begun'));
    }
    return withMeter(number, async () => {
      const run = runOf(number);
      const meter = seat.meterOf(number);
      // Before anything is measured that could not count.
      mustTakeCheck(run, check, now());
      const shown = await showCheck(meter, run, asked, now().slice(0, 10), going).catch((thrown: unknown) => {
        // Hands turn such a meter from check to check; a check that finds it turned otherwise was not done, no more.
        const turned = meter.isSetByHand && thrown instanceof Problem && thrown.code === 'function-changed';
        throw turned ? problem('function-not-turned', thrown.what) : thrown;
      });
      const [entry] = act(number, { type: 'check-bench', by, check, ...shown });
      return { entry: entry as Entry };
    });
  }

  /** @throws problem meter-missing */
  function meterFactsOf(number: number): MeterFacts {
    const { meter } = runOf(number);
    if (!meter) throw problem('meter-missing');
    return meter;
  }

  async function find(path: string): Promise<Answers['find-meter']> {
    // What is measured now must not lose its meter to a search.
    if (meterIsAsked || capture.isOn) throw problem('reading-under-way');
    finding.abort();
    const search = new AbortController();
    finding = search;
    await continuity.stop();
    // Whatever sits at the station may hold that very port.
    await seat.release();
    await wiring.release(null);
    try {
      const { address, identity } = await findMeter(path, {
        signal: search.signal,
        onTry: ({ settings, number, of }) =>
          tell({ kind: 'finding', path, trying: `${settings} (${number} of ${of})` }),
      });
      return { address, identity: identity.text };
    } catch (thrown) {
      throw search.signal.aborted ? problem('finding-stopped') : thrown;
    }
  }

  /** Work on a run, begun when that is there. */
  function loaded<T>(number: number, what: (going: GoingOn) => Promise<T>): (going: GoingOn) => Promise<T> {
    return async (going) => {
      if (!runs.has(number)) await runs.load(number, going);
      return what(going);
    };
  }

  /** Writes a result that belongs to no run into the station's own folder. */
  async function writeResult(name: string, text: string): Promise<Written & { text: string }> {
    return { ...(await writeUnderFreeName(folders.certificates, name, Buffer.from(text))), text };
  }

  const certificates = certificatesAsked({
    ...{ version, signer, works, runOf, act, loaded },
    folder: folders.certificates,
  });

  const doing: { [N in RequestName]: (question: CheckedQuestion<N>) => Answers[N] | Promise<Answers[N]> } = {
    ...recordAsked({ record, works, folders }),
    ...historyAsked({ record, runs, works, folders }),
    ...wiring.doing,
    overview: () => ({
      version,
      recordFile: record.file,
      certificateFolder: folders.certificates,
      keyFingerprint: signer.fingerprint,
      ...latestRuns(record, runs),
      link: seat.link,
      live: capture.live,
      continuity: continuity.state,
      wiring: wiring.wiring,
    }),
    'list-ports': () => listPorts(),
    'open-run': ({ work, run }) =>
      works.begin(
        work,
        loaded(run, async () => opened.open(run)),
      ),
    'pages-of-run': ({ run, position, from }) => ({ pages: opened.pages(run, position, from) }),
    series: (asked) => seriesAsked(outcomesOf, asked),
    'receive-lot': ({ claim }) => {
      const run = record.nextRun();
      const facts = factsOf(withSeed(claim, randomInt(LARGEST_SEED + 1)), seriesOfClaim(outcomesOf, claim));
      act(run, { type: 'receive-lot', facts });
      return { run };
    },
    ...practice.doing,
    'connect-meter': async ({ run, address }) => {
      // Its own bench is laid out for an exercise, and no other.
      if (runOf(run).practice && readAddress(address).kind !== 'sim') throw problem('practice-needs-bench');
      await endLive('the meter is connected anew');
      await seat.connect(run, address);
      return { link: seat.link };
    },
    'release-meter': async () => {
      await endLive('the meter is let go');
      await seat.release();
      return { link: seat.link };
    },
    'confirm-bench': ({ run, by, cautions }) => {
      seat.meterOf(run);
      act(run, { type: 'confirm-bench', by, cautions });
      return {};
    },
    'check-bench': ({ work, ...asked }) => works.begin(work, (going) => checkBench(asked, going)),
    'override-calibration': ({ run, ...rest }) => {
      act(run, { type: 'override-calibration', ...rest });
      return {};
    },
    'meter-data': async ({ run }) => {
      const meter = meterFactsOf(run);
      return { data: meter.identity.simulated ? meter.data : await dataOfMeter(folders.data, meter) };
    },
    'save-meter-data': async ({ run, data }) => {
      const meter = meterFactsOf(run);
      if (meter.identity.simulated) throw problem('meter-data-simulated');
      seat.meterOf(run);
      mustBeOpen(runOf(run));
      await endLive('the meter is set anew');
      await withMeter(run, async () => {
        await keepMeterData(folders.data, meter, data);
        await seat.connectAnew(run);
      });
      return { link: seat.link };
    },
    references: () => readReferences(folders.data),
    'save-reference': async ({ reference }) => {
      await keepReference(folders.data, reference);
      return {};
    },
    ...partsAsked(parts, {
      folder: folders.data,
      works,
      tellChanged: () => tell({ kind: 'parts' }),
      writeFile: writeResult,
    }),
    dialects: async () => {
      const own = await readOwnDialects(dialectFolder);
      const found = (dialects: readonly Dialect[], isOwn: boolean) =>
        dialects.map(({ name, title, about }) => ({ name, title, about, own: isOwn }));
      return {
        dialects: [...found(shippedDialects, false), ...found(own.dialects, true)],
        problems: own.problems.map((each) => each.toJSON()),
      };
    },
    'find-meter': ({ path }) => find(path),
    'stop-finding': () => {
      finding.abort();
      return {};
    },
    'take-reading': ({ run }) => capture.aside(() => takeReading(run)),
    ...liveAsked(capture, continuity, { release: releaseAll }, () => meterIsAsked),
    'say-position': ({ run, ...rest }) =>
      capture.aside(() => {
        if (meterIsAsked) throw problem('reading-under-way');
        act(run, { type: 'say-position', ...rest });
        return {};
      }),
    'void-reading': ({ run, ...rest }) =>
      capture.aside(() => {
        if (meterIsAsked) throw problem('reading-under-way');
        act(run, { type: 'void-reading', ...rest });
        return {};
      }),
    'decide-lot': ({ run, ...rest }) =>
      capture.aside(() => {
        act(run, { type: 'decide-lot', ...rest });
        return {};
      }),
    'correct-decision': ({ run, ...rest }) => {
      act(run, { type: 'correct-decision', ...rest });
      return {};
    },
    'correct-fact': ({ run, ...rest }) => {
      act(run, { type: 'correct-fact', ...rest });
      return {};
    },
    'lift-hold': ({ run, ...rest }) => {
      act(run, { type: 'lift-hold', ...rest });
      return {};
    },
    ...certificates.doing,
    'story-of-run': ({ work, run }) =>
      works.begin(work, async (going) => {
        const extent = record.extentOf(run);
        if (extent === null) throw problem('run-unknown', run);
        return storyOfRun(record, run, extent.count, going);
      }),
    'lot-history': ({ work, run }) => works.begin(work, (going) => lotHistory({ rows: record.rows, runs }, run, going)),
    ...resultsAsked({ works, runs, version, signer, writeFile: writeResult }),
    'stop-work': ({ work }) => {
      works.stop(work);
      return {};
    },
  };

  return {
    async ask(name, question) {
      const answer = doing[name] as (question: unknown) => unknown;
      return (await answer(checked(name, requests[name] as z.ZodType, question))) as Answers[typeof name];
    },
    listen(hear) {
      listeners.add(hear);
      return () => listeners.delete(hear);
    },
    writeCertificate: certificates.write,
    async close() {
      listeners.clear();
      finding.abort();
      await Promise.allSettled([capture.stop(), continuity.stop()]);
      await Promise.allSettled([seat.release(), wiring.release(null), works.stopAll(), parts.settled()]);
      runs.settle();
      wiring.settle();
      record.close();
    },
  };
}

/** The key this station signs by. Where it cannot be used the record is closed. @throws problems of openStationKey */
function signerOf({ data }: DataFolders, record: Record): StationKey {
  try {
    return openStationKey(data);
  } catch (thrown) {
    record.close();
    throw thrown;
  }
}

/** At one go. Where that fails the record is closed. */
function makeReady(record: Record, tell: TellProgress): void {
  try {
    for (const _ of readyingRecord(record, tell));
  } catch (thrown) {
    record.close();
    throw thrown;
  }
}
