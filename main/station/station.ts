import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type * as z from 'zod';
import { certificateOf } from '../../core/certificate/certificateOf.ts';
import {
  type Answers,
  type CheckedQuestion,
  type Entry,
  type News,
  type RequestName,
  type RunSummary,
  requests,
  type StationClient,
} from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import { apply } from '../../core/inspection/apply.ts';
import { type Command, decide, mustBeOpen, mustTakeCheck, mustTakeReadings } from '../../core/inspection/decide.ts';
import type { InspectionEvent, MeterFacts } from '../../core/inspection/event.ts';
import { factsOf } from '../../core/inspection/lotClaim.ts';
import { nextPiece, outlook, type Run, stepOf } from '../../core/inspection/run.ts';
import { asProblem, Problem, type ProblemCode, problem, wordsOf } from '../../core/problem/problem.ts';
import type { Dialect } from '../../instruments/meter/dialect.ts';
import { findMeter } from '../../instruments/meter/findMeter.ts';
import { readOwnDialects } from '../../instruments/meter/ownDialects.ts';
import { shippedDialects } from '../../instruments/meter/shippedDialects.ts';
import { listPorts } from '../../instruments/transport/ports.ts';
import { writeWhole } from '../certificates/writeWhole.ts';
import { openRecord, type Record } from '../record/record.ts';
import { benchMeterData } from './benchMeterData.ts';
import { now } from './clock.ts';
import type { DataFolders } from './dataFolder.ts';
import { dataOfMeter, keepMeterData } from './knownMeters.ts';
import { keepReference, readReferences } from './knownReferences.ts';
import { MeterSeat } from './meterSeat.ts';
import { showCheck } from './showCheck.ts';

export interface StationOptions {
  folders: DataFolders;
  version: string;
  /** Where entries are kept; the record in the data folder unless a measurement of speed gives another. */
  record?: Record;
}

/**
 * The station: record, meter and runs together behind the contract. `ask` is its door: every question is checked there.
 * Commands go one way: `decide`, then durable in the record, then told to everybody.
 */
export interface Station extends StationClient {
  /** Writes a certificate into a file of the caller's choice. @throws certificate-exists, certificate-unwritable, run-undecided */
  writeCertificate(run: number, file?: string): Promise<Answers['write-certificate']>;
  /** Lets the meter go, then closes the record. */
  close(): Promise<void>;
}

const MOST_COPIES = 1000;

/** After these nothing that was shown of the bench holds any more. */
const EXPIRING: ReadonlySet<ProblemCode> = new Set(['readiness-expired', 'function-changed', 'meter-restarted']);

/** Whether readings would count that must not, if this were forgotten. */
function speaksAgainst(event: InspectionEvent): boolean {
  if (event.type === 'bench-checked') return event.outcome === 'failed';
  return event.type === 'run-interrupted' || event.type === 'readiness-expired';
}

/** Opens the station on its record. @throws problems record-in-use, record-unusable, record-altered */
export function openStation({ folders, version, record = openRecord(folders.data) }: StationOptions): Station {
  const runs = new Map<number, Run>();
  const listeners = new Set<(news: News) => void>();
  let meterIsAsked = false;
  /** Ends the search for a meter that is under way. */
  let finding = new AbortController();
  /** The certificate that is being written, or was last. */
  let writing: Promise<unknown> = Promise.resolve();

  try {
    for (const { run, event } of record.entries()) runs.set(run, apply(runs.get(run) ?? null, event));
  } catch (thrown) {
    record.close();
    throw thrown;
  }

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

  const runOf = (number: number): Run => {
    const run = runs.get(number);
    if (!run) throw problem('run-unknown', number);
    return run;
  };

  /** Keeps, tells. Nobody hears of an event before it is on the disk. */
  const keep = (number: number, events: readonly InspectionEvent[]): Entry[] => {
    const entries = record.append(number, events);
    for (const entry of entries) {
      runs.set(number, apply(runs.get(number) ?? null, entry.event));
      tell({ kind: 'entry', entry });
    }
    return entries;
  };

  /** What the record had no room for and must know before anything else happens in the run. */
  const owed = new Map<number, InspectionEvent[]>();

  /** Decides and keeps; before that what is owed. */
  const act = (number: number, command: Command): Entry[] => {
    const debt = owed.get(number);
    if (debt) keep(number, debt);
    owed.delete(number);
    const outcome = decide(runs.get(number) ?? null, command, now());
    if (outcome instanceof Problem) throw outcome;
    try {
      return keep(number, outcome);
    } catch (thrown) {
      if (outcome.some(speaksAgainst)) owed.set(number, outcome);
      throw thrown;
    }
  };

  const dialectFolder = join(folders.data, 'dialects');
  const seat = new MeterSeat({
    runOf,
    act,
    tell: (link) => tell({ kind: 'link', link }),
    ownDialects: async () => (await readOwnDialects(dialectFolder)).dialects,
    dataOf: async (identity, address) =>
      identity.simulated ? benchMeterData(now().slice(0, 10)) : dataOfMeter(folders.data, { identity, address }),
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

  function takeReading(number: number): Promise<{ entry: Entry }> {
    return withMeter(number, async () => {
      const run = runOf(number);
      mustTakeReadings(run, now());
      const meter = seat.meterOf(number);
      await meter.hands?.place(nextPiece(run));
      const measured = await meter.read();
      const [entry] = act(number, { type: 'record-reading', measured });
      return { entry: entry as Entry };
    });
  }

  function checkBench(asked: CheckedQuestion<'check-bench'>): Promise<{ entry: Entry }> {
    const { run: number, by, check } = asked;
    return withMeter(number, async () => {
      const run = runOf(number);
      const meter = seat.meterOf(number);
      // Before anything is measured that could not count.
      mustTakeCheck(run, check, now());
      const shown = await showCheck(meter, run, asked, now().slice(0, 10)).catch((thrown: unknown) => {
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
    if (meterIsAsked) throw problem('reading-under-way');
    finding.abort();
    const search = new AbortController();
    finding = search;
    // Whatever sits at the station may hold that very port.
    await seat.release();
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

  function writeCertificate(number: number, file?: string): Promise<Answers['write-certificate']> {
    const done = certify(number, file);
    writing = done;
    return done;
  }

  async function certify(number: number, file?: string): Promise<Answers['write-certificate']> {
    const run = runOf(number);
    const text = certificateOf(run, { run: number, version });
    const written = file ? await writeInto(resolve(file), text) : await writeBeside(number, run, text);
    act(number, { type: 'note-certificate', ...written });
    return written;
  }

  async function writeInto(file: string, text: string): Promise<Answers['write-certificate']> {
    return { file, sha256: await writeWhole(file, text) };
  }

  /** Into the station's own folder, where the next free name is taken: nobody is asked for one. */
  async function writeBeside(number: number, run: Run, text: string): Promise<Answers['write-certificate']> {
    for (let copy = run.certificates.length + 1; ; copy++) {
      try {
        return await writeInto(resolve(folders.certificates, certificateName(number, run, copy)), text);
      } catch (thrown) {
        if (!(thrown instanceof Problem && thrown.code === 'certificate-exists') || copy > MOST_COPIES) throw thrown;
      }
    }
  }

  async function readCertificate(number: number): Promise<Answers['read-certificate']> {
    const written = runOf(number).certificates.at(-1);
    if (!written) throw problem('run-undecided');
    const bytes = await readFile(written.file).catch((thrown) => {
      throw problem('file-unreadable', written.file, wordsOf(thrown));
    });
    // Nobody is handed a file that is not the one the record knows.
    if (createHash('sha256').update(bytes).digest('hex') !== written.sha256) {
      throw problem('certificate-broken', written.file, 'it is not the file that was written');
    }
    return { file: written.file, text: bytes.toString('utf8') };
  }

  const doing: { [N in RequestName]: (question: CheckedQuestion<N>) => Answers[N] | Promise<Answers[N]> } = {
    overview: () => ({
      version,
      recordFile: record.file,
      certificateFolder: folders.certificates,
      runs: [...runs].map(([number, run]) => summaryOf(number, run)),
      link: seat.link,
    }),
    'list-ports': () => listPorts(),
    'entries-of-run': ({ run }) => {
      runOf(run);
      return [...record.entries(run)];
    },
    'receive-lot': ({ claim }) => {
      const run = record.nextRun();
      act(run, { type: 'receive-lot', facts: factsOf(claim) });
      return { run };
    },
    'connect-meter': async ({ run, address }) => {
      await seat.connect(run, address);
      return { link: seat.link };
    },
    'release-meter': async () => {
      await seat.release();
      return { link: seat.link };
    },
    'confirm-bench': ({ run, by, cautions }) => {
      seat.meterOf(run);
      act(run, { type: 'confirm-bench', by, cautions });
      return {};
    },
    'check-bench': (asked) => checkBench(asked),
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
    'take-reading': ({ run }) => takeReading(run),
    'void-reading': ({ run, ...rest }) => {
      if (meterIsAsked) throw problem('reading-under-way');
      act(run, { type: 'void-reading', ...rest });
      return {};
    },
    'decide-lot': ({ run, ...rest }) => {
      act(run, { type: 'decide-lot', ...rest });
      return {};
    },
    'lift-hold': ({ run, ...rest }) => {
      act(run, { type: 'lift-hold', ...rest });
      return {};
    },
    'write-certificate': ({ run }) => writeCertificate(run),
    'read-certificate': ({ run }) => readCertificate(run),
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
    writeCertificate,
    async close() {
      listeners.clear();
      finding.abort();
      await Promise.allSettled([seat.release(), writing]);
      record.close();
    },
  };
}

/** A file name that says what is in it, safe on every system; a second certificate of a run gets a number. */
function certificateName(number: number, run: Run, copy: number): string {
  const lot = run.lot.number.replace(/[^\p{L}\p{N}._-]+/gu, '_').replace(/^[._]+|[._]+$/g, '') || 'lot';
  const again = copy === 1 ? '' : `-${copy}`;
  return `${lot.slice(0, 80)}-run-${number}${again}.csv`;
}

function summaryOf(number: number, run: Run): RunSummary {
  return {
    run: number,
    receivedAt: run.receivedAt,
    inspector: run.inspector,
    part: run.part.number,
    lot: run.lot.number,
    supplier: run.lot.supplier,
    lotSize: run.lot.size,
    counted: run.tally.counted,
    sampleSize: run.plan.sampleSize,
    nonconforming: run.tally.nonconforming,
    step: stepOf(run),
    outlook: outlook(run),
    disposition: run.decided?.disposition ?? null,
    simulated: run.meter?.identity.simulated ?? false,
  };
}
