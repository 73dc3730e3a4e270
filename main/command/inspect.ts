import { existsSync } from 'node:fs';
import type { News } from '../../core/contract/contract.ts';
import { apply } from '../../core/inspection/apply.ts';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import { nextPiece, outlook, type Run } from '../../core/inspection/run.ts';
import { asProblem, Problem, problem } from '../../core/problem/problem.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { openStation, type Station } from '../station/station.ts';
import { VERSION } from '../version.ts';
import { exitStatus } from './exitStatus.ts';
import { readLotFile } from './lotFile.ts';
import { Person } from './person.ts';
import { Progress } from './progress.ts';
import { wholeNumber } from './wholeNumber.ts';

export interface InspectOptions {
  meter: string;
  goOn?: string;
  certificate?: string;
  confirmCautions?: boolean;
  wait: string;
  json?: boolean;
  data?: string;
}

/** Inspects one lot on the command line: the same station, no window. Returns the exit status. */
export async function inspect(file: string | undefined, options: InspectOptions): Promise<number> {
  const waitMilliseconds = wholeNumber('--wait', options.wait, 0, 86_400) * 1000;
  if ((file === undefined) === (options.goOn === undefined)) {
    throw problem('input-invalid', 'inspect', 'expected either a file that describes the lot, or --go-on with a run');
  }
  // Not after the whole sample has been measured.
  if (options.certificate !== undefined && existsSync(options.certificate)) {
    throw problem('certificate-exists', options.certificate);
  }
  const claim = file === undefined ? null : await readLotFile(file);
  const station = openStation({ folders: dataFolders(options.data), version: VERSION });
  const say = new Progress(options.json ?? false);
  const person = new Person();
  try {
    const number = claim
      ? (await station.ask('receive-lot', { claim })).run
      : wholeNumber('--go-on', options.goOn ?? '', 1, Number.MAX_SAFE_INTEGER);
    const watched = await watch(station, number, say);
    try {
      await readyBench(station, number, watched, options, person, say);
      await measureSample(station, number, watched, waitMilliseconds, person, say);
      return await finish(station, number, watched.run, options, say);
    } catch (thrown) {
      say.line(`Run ${number} is kept. Go on with it by --go-on ${number}.`);
      throw thrown;
    }
  } finally {
    person.leave();
    await station.close();
  }
}

interface Watched {
  run: Run;
  /** Resolves at the next news of this run or of the meter. */
  next(milliseconds: number): Promise<void>;
}

/** Folds the run from its entries, as every screen does. */
async function watch(station: Station, number: number, say: Progress): Promise<Watched> {
  let run: Run | null = null;
  let wake = (): void => undefined;
  for (const { event } of await station.ask('entries-of-run', { run: number })) run = apply(run, event);
  if (!run) throw problem('run-unknown', number);
  say.begin(number, run);
  const watched: Watched = {
    run,
    next: (milliseconds) =>
      new Promise((resolve) => {
        const timer = setTimeout(resolve, milliseconds);
        wake = () => {
          clearTimeout(timer);
          resolve();
        };
      }),
  };
  station.listen((news: News) => {
    if (news.kind === 'entry' && news.entry.run === number) {
      watched.run = apply(watched.run, news.entry.event);
      say.event(number, news.entry.event, watched.run);
    }
    wake();
  });
  return watched;
}

async function readyBench(
  station: Station,
  number: number,
  watched: Watched,
  options: InspectOptions,
  person: Person,
  say: Progress,
): Promise<void> {
  if (outlook(watched.run) !== 'undecided') return;
  await station.ask('connect-meter', { run: number, address: options.meter });
  const simulated = watched.run.meter?.identity.simulated ?? false;
  if (!options.confirmCautions && !simulated) {
    say.line('Before anything is measured:');
    for (const caution of CAUTIONS) say.line(`  - ${caution}`);
    const answer = await person.answer('Is all of this so? Type yes to go on: ');
    if (answer?.trim().toLowerCase() !== 'yes') throw problem('cautions-unconfirmed');
  }
  const cautions = simulated ? ['simulated bench: no real piece is connected'] : [...CAUTIONS];
  await station.ask('confirm-bench', { run: number, by: watched.run.inspector, cautions });
}

async function measureSample(
  station: Station,
  number: number,
  watched: Watched,
  waitMilliseconds: number,
  person: Person,
  say: Progress,
): Promise<void> {
  const byHand = !(watched.run.meter?.identity.simulated ?? false);
  while (outlook(watched.run) === 'undecided') {
    if (byHand) {
      const piece = nextPiece(watched.run);
      const answer = await person.answer(
        `Piece ${piece}: put it on the probes, press Enter (v voids the last, q stops) `,
      );
      if (answer === null || answer.trim() === 'q') throw stopped(number);
      if (answer.trim() === 'v') {
        await voidLast(station, number, watched.run, person, say);
        continue;
      }
    }
    try {
      await station.ask('take-reading', { run: number });
    } catch (thrown) {
      if (!(thrown instanceof Problem)) throw thrown;
      if (!['meter-lost', 'meter-missing', 'run-interrupted'].includes(thrown.code)) {
        if (!byHand) throw thrown;
        say.line(thrown.message);
        continue;
      }
      say.line(thrown.message);
      await untilBack(station, watched, waitMilliseconds, thrown);
    }
  }
}

async function voidLast(station: Station, number: number, run: Run, person: Person, say: Progress): Promise<void> {
  const last = run.readings.findLast((reading) => !reading.voided);
  if (!last) return say.line('There is no reading to void.');
  const reason = (await person.answer(`Why should reading ${last.reading} not count? `)) ?? '';
  try {
    await station.ask('void-reading', { run: number, reading: last.reading, by: run.inspector, reason });
  } catch (thrown) {
    say.line(asProblem(thrown).message);
  }
}

/** Waits for a lost meter; the station itself looks for it. @throws what it was lost by, when the time is over */
async function untilBack(station: Station, watched: Watched, milliseconds: number, lostBy: Problem): Promise<void> {
  const end = Date.now() + milliseconds;
  for (;;) {
    const { link } = await station.ask('overview', {});
    if (link.state === 'connected' && !watched.run.interrupted) return;
    if (link.state === 'lost' && link.why.code === 'meter-other') throw new Problem(link.why);
    const left = end - Date.now();
    if (left <= 0) throw lostBy;
    await watched.next(Math.min(left, 1000));
  }
}

async function finish(
  station: Station,
  number: number,
  run: Run,
  options: InspectOptions,
  say: Progress,
): Promise<number> {
  const accepted = outlook(run) === 'accept';
  const disposition = accepted ? 'accepted' : 'not-accepted';
  if (!run.decided || run.decided.disposition === 'on-hold') {
    await station.ask('decide-lot', { run: number, disposition, by: run.inspector, reason: 'as the plan says' });
  }
  const certificate = await station.writeCertificate(number, options.certificate);
  say.result(number, disposition, run, certificate);
  return accepted ? exitStatus.good : exitStatus.bad;
}

function stopped(run: number): Problem {
  return problem('inspection-stopped', run);
}
