import { existsSync } from 'node:fs';
import type { News } from '../../core/contract/contract.ts';
import { openRun } from '../../core/contract/openRun.ts';
import { apply } from '../../core/inspection/apply.ts';
import { CAUTIONS } from '../../core/inspection/cautions.ts';
import type { Disposition } from '../../core/inspection/event.ts';
import { type Outlook, outlook } from '../../core/inspection/outlook.ts';
import { counts, isPractice, nextPiece, type Run } from '../../core/inspection/run.ts';
import { asProblem, Problem, type ProblemCode, problem } from '../../core/problem/problem.ts';
import { isProven } from '../../core/readiness/round.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { openStation } from '../station/station.ts';
import { VERSION } from '../version.ts';
import { answerAtProbes } from './answerAtProbes.ts';
import { checkBench } from './checkBench.ts';
import { exitStatus } from './exitStatus.ts';
import type { InspectOptions, Job } from './job.ts';
import { LiveLine } from './liveLine.ts';
import { readLotFile } from './lotFile.ts';
import { Person } from './person.ts';
import { nextWords, positionChoices } from './positionWords.ts';
import { Progress } from './progress.ts';
import { tame } from './tame.ts';
import { turnAt, turnWords } from './turnWords.ts';
import { untilStopped } from './untilStopped.ts';
import { wholeNumber } from './wholeNumber.ts';
import { writeCertificate } from './writeCertificate.ts';

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
  readAddress(options.meter);
  const claim = file === undefined ? null : await readLotFile(file);
  const checking = new LiveLine('Checking the record');
  const station = openStation({ folders: dataFolders(options.data), version: VERSION, tell: checking.tell });
  checking.end();
  const person = new Person();
  try {
    const number = claim
      ? (await station.ask('receive-lot', { claim })).run
      : wholeNumber('--go-on', options.goOn ?? '', 1, Number.MAX_SAFE_INTEGER);
    const say = new Progress(options.json ?? false);
    const parts = { station, number, options, waitMilliseconds, person, say, stop: stopSignal(person) };
    const { disposition } = await inspectRun(parts);
    return statusOf(disposition);
  } finally {
    person.leave();
    await station.close();
  }
}

/** The exit status that a disposition ends with. */
export function statusOf(disposition: Disposition): number {
  return disposition === 'not-accepted' ? exitStatus.bad : exitStatus.good;
}

/** How a run came out. */
export interface Inspected {
  disposition: Disposition;
  run: Run;
  certificate: { file: string; sha256: string };
}

/** Takes a run from wherever it stands to its certificate. @throws whatever keeps it from that; the run is kept */
export async function inspectRun(parts: Omit<Job, 'run' | 'news'>): Promise<Inspected> {
  const { job, leave } = await takeUp(parts);
  try {
    await makeReady(job);
    await measureSample(job);
    return await finish(job);
  } catch (thrown) {
    job.say.line(`Run ${job.number} is kept. Go on with it by --go-on ${job.number}.`);
    throw thrown;
  } finally {
    leave();
  }
}

/** Ctrl-C ends an inspection in order: the meter is given back, the run is kept. */
export function stopSignal(person: Person): AbortSignal {
  const stop = new AbortController();
  void untilStopped().then(() => {
    stop.abort();
    person.leave();
  });
  return stop.signal;
}

/** Opens the run, as every screen does, and follows it from then on. */
async function takeUp(parts: Omit<Job, 'run' | 'news'>): Promise<{ job: Job; leave: () => void }> {
  const { station, number, say } = parts;
  const { run } = await openRun(station, number);
  say.begin(number, run);
  let wake = (): void => undefined;
  const job: Job = {
    ...parts,
    run,
    news: (milliseconds) =>
      new Promise((resolve) => {
        const timer = setTimeout(resolve, milliseconds);
        wake = () => {
          clearTimeout(timer);
          resolve();
        };
      }),
  };
  const leave = station.listen((news: News) => {
    if (news.kind === 'entry' && news.entry.run === number) {
      job.run = apply(job.run, news.entry.event);
      say.event(number, news.entry.event, job.run);
    }
    wake();
  });
  return { job, leave };
}

async function makeReady(job: Job): Promise<void> {
  const { station, number, options, person, say } = job;
  if (job.run.decided?.disposition === 'on-hold') throw problem('run-on-hold');
  if (outlook(job.run) !== 'undecided' && isProven(job.run)) return;
  await station.ask('connect-meter', { run: number, address: options.meter });
  const simulated = isPractice(job.run);
  if (!options.confirmCautions && !simulated) {
    say.line('Before anything is measured:');
    for (const caution of CAUTIONS) say.line(`  - ${caution}`);
    const answer = await person.answer('Is all of this so? Type yes to go on: ');
    if (answer?.trim().toLowerCase() !== 'yes') throw problem('cautions-unconfirmed');
  }
  const cautions = simulated ? ['simulated bench: no real piece is connected'] : [...CAUTIONS];
  await station.ask('confirm-bench', { run: number, by: job.run.inspector, cautions });
}

/** Measures piece after piece, with every check of the bench that is due before, between and after. */
async function measureSample(job: Job): Promise<void> {
  const byHand = !isPractice(job.run);
  while (outlook(job.run) === 'undecided' || !isProven(job.run)) {
    if (job.stop.aborted) throw problem('inspection-stopped', job.number);
    try {
      await checkBench(job);
      if (outlook(job.run) !== 'undecided') return;
      if (byHand && !(await isPlaced(job))) continue;
      await job.station.ask('take-reading', { run: job.number });
    } catch (thrown) {
      const found = asProblem(thrown);
      const lost = LOST.has(found.code);
      // With hands at the bench a reading that does not count is simply taken again.
      if (!lost && !EXPIRED.has(found.code) && !(byHand && NOT_COUNTED.has(found.code))) throw thrown;
      job.say.line(found.message);
      if (lost) await untilBack(job, found);
    }
  }
}

const LOST: ReadonlySet<ProblemCode> = new Set(['meter-lost', 'meter-missing', 'run-interrupted']);

/** The checks of the bench are due again. */
const EXPIRED: ReadonlySet<ProblemCode> = new Set(['function-changed', 'meter-restarted', 'readiness-expired']);

const NOT_COUNTED: ReadonlySet<ProblemCode> = new Set([
  'answer-garbled',
  'answer-not-a-number',
  'answer-out-of-step',
  'answer-too-long',
  'answer-unreadable',
  'line-echoes',
  'meter-error',
  'meter-not-in-step',
  'meter-silent',
  'reading-negative',
  'record-full',
  'setting-not-taken',
  'study-piece-open',
]);

/** Whether the next piece is on the probes; false when something else was done instead. Only Enter alone says that it is. */
async function isPlaced(job: Job): Promise<boolean> {
  const next = nextPiece(job.run);
  const turn = turnAt(job.run, next);
  const which = turn ? `Turn ${next}: ${turnWords(job.run, turn)}` : nextWords(job.run);
  const answer = await job.person.answer(
    `${which}: put it on the probes, press Enter (${positionChoices(job.run)}v voids the last, q stops) `,
  );
  const wants = answerAtProbes(answer);
  switch (wants.kind) {
    case 'placed':
      return true;
    case 'stop':
      throw problem('inspection-stopped', job.number);
    case 'void':
      await voidLast(job);
      return false;
    case 'position':
      await sayPosition(job, wants.text);
      return false;
    case 'none':
      job.say.line(`"${tame(wants.said)}" is none of these answers; nothing was measured.`);
      return false;
  }
}

/** @param text empty: where it was asked for after all */
async function sayPosition({ station, number, say }: Job, text: string): Promise<void> {
  try {
    const position = text === '' ? null : wholeNumber('the position', text, 1, Number.MAX_SAFE_INTEGER);
    await station.ask('say-position', { run: number, position });
  } catch (thrown) {
    say.line(asProblem(thrown).message);
  }
}

async function voidLast({ station, number, run, person, say }: Job): Promise<void> {
  const last = run.readings.findLast(counts);
  if (!last) return say.line('There is no reading to void.');
  const reason = (await person.answer(`Why should reading ${last.reading} not count? `)) ?? '';
  try {
    await station.ask('void-reading', { run: number, reading: last.reading, by: run.inspector, reason });
  } catch (thrown) {
    say.line(asProblem(thrown).message);
  }
}

/** Waits for a lost meter; the station itself looks for it. @throws what it was lost by, when the time is over */
async function untilBack(job: Job, lostBy: Problem): Promise<void> {
  const end = Date.now() + job.waitMilliseconds;
  for (;;) {
    const { link } = await job.station.ask('overview', {});
    if (link.state === 'connected' && !job.run.interrupted) return;
    if (link.state === 'lost' && link.why.code === 'meter-other') throw new Problem(link.why);
    if (job.stop.aborted) throw problem('inspection-stopped', job.number);
    const left = end - Date.now();
    if (left <= 0) throw lostBy;
    await job.news(Math.min(left, 1000));
  }
}

/** How the plan disposes of a lot. What is left undecided is not accepted. */
const DISPOSITIONS: Record<Outlook, Disposition> = {
  accept: 'accepted',
  'not-accept': 'not-accepted',
  undecided: 'not-accepted',
  studied: 'studied',
};

/** Decides the lot as its plan says, or closes the study, and writes the certificate. */
async function finish(job: Job): Promise<Inspected> {
  const { station, number, run, say } = job;
  const disposition = run.decided?.disposition ?? DISPOSITIONS[outlook(run)];
  if (!run.decided) {
    await station.ask('decide-lot', { run: number, disposition, by: run.inspector, reason: 'as the plan says' });
  }
  const certificate = await writeCertificate(job);
  say.study(number, run);
  say.result(number, disposition, run, certificate);
  return { disposition, run, certificate };
}
