import { applyContinuity } from '../../core/continuity/apply.ts';
import { CONTINUITY_BOUNDS, CONTINUITY_CAUTIONS } from '../../core/continuity/continuityCautions.ts';
import {
  areChecksDue,
  type ContinuityRun,
  continuityOutlook,
  continuityTally,
  isContinuityPractice,
  isProven,
  leadCheckDue,
  nextPoint,
} from '../../core/continuity/continuityRun.ts';
import { DISPOSITION_WORDS, judgedWords, readWords, tallyWords } from '../../core/continuity/continuityWords.ts';
import { CROSS_CHOICES, type CrossChoice } from '../../core/continuity/crossPairs.ts';
import type { ContinuityDisposition, ContinuityEvent } from '../../core/continuity/event.ts';
import { LEAD_CHECK_WORDS, type LeadCheckName } from '../../core/continuity/leadCheck.ts';
import { netResults, swappedWords } from '../../core/continuity/netSummary.ts';
import { type Point, pairWords } from '../../core/continuity/point.ts';
import { foldContinuityEntries } from '../../core/contract/openContinuity.ts';
import { asProblem, problem } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { readAddress } from '../../instruments/transport/address.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { openStation, type Station } from '../station/station.ts';
import { VERSION } from '../version.ts';
import { exitStatus } from './exitStatus.ts';
import { fileText } from './fileText.ts';
import { stopSignal } from './inspect.ts';
import { LiveLine } from './liveLine.ts';
import { Person } from './person.ts';
import { tame } from './tame.ts';
import { wholeNumber } from './wholeNumber.ts';

export interface ContinuityOptions {
  meter: string;
  goOn?: string;
  inspector?: string;
  title?: string;
  drawing?: string;
  serial?: string;
  closedBelow?: string;
  openAbove?: string;
  cross?: string;
  confirmCautions?: boolean;
  json?: boolean;
  data?: string;
}

interface Job {
  station: Station;
  number: number;
  run: ContinuityRun;
  options: ContinuityOptions;
  person: Person;
  stop: AbortSignal;
  /** For people; nothing where lines are for programs. */
  say: (line: string) => void;
}

/** Goes through a list of points on the command line: the same station, no window. Returns the exit status. */
export async function continuity(file: string | undefined, options: ContinuityOptions): Promise<number> {
  if ((file === undefined) === (options.goOn === undefined)) {
    throw problem('input-invalid', 'continuity', 'expected either a list of points, or --go-on with a run');
  }
  readAddress(options.meter);
  const claim = file === undefined ? null : claimOf(await fileText(file), file, options);
  const checking = new LiveLine('Checking the record');
  const station = openStation({ folders: dataFolders(options.data), version: VERSION, tell: checking.tell });
  checking.end();
  const person = new Person();
  try {
    const number = claim
      ? (await station.ask('receive-continuity', { claim })).run
      : wholeNumber('--go-on', options.goOn ?? '', 1, Number.MAX_SAFE_INTEGER);
    const run = foldContinuityEntries((await station.ask('open-continuity', { run: number })).entries);
    const say = (line: string) => {
      if (!options.json) console.log(tame(line));
    };
    const job: Job = { station, number, run, options, person, stop: stopSignal(person), say };
    follow(job);
    say(`Run ${number}: ${run.title}, ${run.points.length} points`);
    try {
      return await goThrough(job);
    } catch (thrown) {
      say(`Run ${number} is kept. Go on with it by --go-on ${number}.`);
      throw thrown;
    }
  } finally {
    person.leave();
    await station.close();
  }
}

function claimOf(csv: string, file: string, options: ContinuityOptions) {
  const { inspector, title = file, drawing = '', serial = '', closedBelow, openAbove, cross } = options;
  if (inspector === undefined) throw problem('input-invalid', '--inspector', 'a name is needed: who measures');
  return {
    inspector,
    title,
    drawing,
    serial,
    csv,
    ...(cross !== undefined && { cross: crossIn(cross) }),
    ...(closedBelow !== undefined && { closedBelowOhms: plain(parseOhms(closedBelow)) }),
    ...(openAbove !== undefined && { openAboveOhms: plain(parseOhms(openAbove)) }),
  };
}

function crossIn(text: string): CrossChoice {
  const found = CROSS_CHOICES.find((one) => one === text);
  if (found === undefined) throw problem('input-invalid', '--cross', `expected ${CROSS_CHOICES.join(', ')}`);
  return found;
}

/** Keeps the run as it stands, and says what happens in it. */
function follow(job: Job): void {
  job.station.listen((news) => {
    if (news.kind !== 'continuity-entry' || news.entry.run !== job.number) return;
    const { event } = news.entry;
    job.run = applyContinuity(job.run, event);
    if (job.options.json) console.log(JSON.stringify({ run: job.number, ...event }));
    else for (const line of wordsOf(job.run, event)) job.say(line);
  });
}

function wordsOf(run: ContinuityRun, event: ContinuityEvent): string[] {
  switch (event.type) {
    case 'continuity-meter-connected':
      return [
        `Meter: ${event.meter.identity.text}${event.meter.identity.simulated ? ' (simulated bench: practice)' : ''}`,
      ];
    case 'continuity-leads-checked':
      return [`Check, ${LEAD_CHECK_WORDS[event.check]}: ${event.outcome}, ${event.why}`];
    case 'continuity-checks-lapsed':
      return [`The checks of the leads hold no longer: ${event.why}`];
    case 'continuity-point-read': {
      const point = run.points[event.point - 1];
      return point ? [`${placeWords(run, point)}: ${readWords(event)}, ${judgedWords(event)}`] : [];
    }
    case 'continuity-point-skipped':
      return [`Point ${event.point} skipped: ${event.reason}`];
    case 'continuity-reading-voided':
      return [`Reading ${event.reading} void: ${event.reason}`];
    default:
      return [];
  }
}

function placeWords({ points }: ContinuityRun, { point, expected, ...pair }: Point): string {
  const state = pair.state === '' ? '' : ` with ${pair.state}`;
  return `${point} of ${points.length}, ${pairWords(pair)}${state}, expected ${expected}`;
}

async function goThrough(job: Job): Promise<number> {
  if (job.run.decided) throw problem(job.run.decided.disposition === 'on-hold' ? 'run-on-hold' : 'run-decided');
  if (nextPoint(job.run) !== null || !isProven(job.run)) {
    await makeReady(job);
    await measure(job);
  }
  return finish(job);
}

async function makeReady(job: Job): Promise<void> {
  const { station, number, options, person, say } = job;
  await station.ask('connect-continuity', { run: number, address: options.meter });
  const simulated = isContinuityPractice(job.run);
  if (!options.confirmCautions && !simulated) {
    say('Before anything is measured:');
    for (const caution of CONTINUITY_CAUTIONS) say(`  - ${caution}`);
    const answer = await person.answer('Is all of this so? Type yes to go on: ');
    if (answer?.trim().toLowerCase() !== 'yes') throw problem('cautions-unconfirmed');
  }
  const cautions = simulated ? ['simulated bench: no real wiring is connected'] : [...CONTINUITY_CAUTIONS];
  await station.ask('confirm-continuity', { run: number, by: job.run.inspector, cautions });
}

/** Measures point after point, with every check of the leads that is due before, between and after. */
async function measure(job: Job): Promise<void> {
  const byHand = !isContinuityPractice(job.run);
  let state = '';
  for (;;) {
    if (job.stop.aborted) throw problem('inspection-stopped', job.number);
    if (areChecksDue(job.run)) {
      await check(job, byHand);
      continue;
    }
    const point = nextPoint(job.run);
    if (point === null) return;
    if (byHand && point.state !== '' && point.state !== state) {
      await mustAnswer(job, `Set: ${point.state}. Press Enter when it is so. `);
      state = point.state;
    }
    if (byHand && !(await isTouched(job, point))) continue;
    try {
      await job.station.ask('read-point', { run: job.number, point: point.point });
    } catch (thrown) {
      const found = asProblem(thrown);
      if (found.code !== 'continuity-unsteady' || !byHand) throw thrown;
      job.say(found.message);
    }
  }
}

/** What the hands do before a check is measured. */
const PLACES: Record<LeadCheckName, string> = {
  'no-voltage': 'put the probes on the two terminals of the first point',
  'open-leads': 'hold the probes apart, so that they touch nothing',
  'shorted-leads': 'press the probes firmly against each other',
};

/** @throws problem check-failed on the simulated bench, inspection-stopped */
async function check(job: Job, byHand: boolean): Promise<void> {
  const { station, number, run } = job;
  const due = leadCheckDue(run);
  const hasVolts = run.meter?.measures.includes('dc-volts') ?? false;
  let word = false;
  if (byHand && due === 'no-voltage' && !hasVolts) {
    const answer = await mustAnswer(job, 'This meter has no DC volts. Is nothing live there, by your word? Type yes: ');
    word = answer.trim().toLowerCase() === 'yes';
    if (!word) return;
  } else if (byHand) await mustAnswer(job, `Check, ${LEAD_CHECK_WORDS[due]}: ${PLACES[due]}, then press Enter. `);
  const asked = { run: number, by: run.inspector, check: due, ...(word && { word: true as const }) };
  const { entry } = await station.ask('check-continuity', asked);
  const { event } = entry;
  if (event.type !== 'continuity-leads-checked' || event.outcome !== 'failed' || byHand) return;
  throw problem('check-failed', LEAD_CHECK_WORDS[due], event.why);
}

/** Whether the probes are on the point; false when something else was done instead. Only Enter alone says that they are. */
async function isTouched(job: Job, point: Point): Promise<boolean> {
  const asked = `${placeWords(job.run, point)}: hold the probes there, then Enter (s skip, v void the last, q stop) `;
  const said = (await mustAnswer(job, asked)).trim().toLowerCase();
  if (said === '') return true;
  const { station, number, run, person, say } = job;
  try {
    if (said === 'q') throw problem('inspection-stopped', number);
    const last = run.readings.findLast(({ voided, suspect }) => !voided && !suspect);
    const reason = async (why: string) => (await person.answer(why)) ?? '';
    if (said === 's') {
      const skipped = {
        run: number,
        point: point.point,
        by: run.inspector,
        reason: await reason('Why is it skipped? '),
      };
      await station.ask('skip-point', skipped);
    } else if (said === 'v' && last) {
      const why = await reason(`Why should reading ${last.reading} not count? `);
      await station.ask('void-point', { run: number, reading: last.reading, by: run.inspector, reason: why });
    } else say(said === 'v' ? 'There is no reading to void.' : `"${said}" is none of these.`);
  } catch (thrown) {
    const found = asProblem(thrown);
    if (found.code === 'inspection-stopped') throw thrown;
    say(found.message);
  }
  return false;
}

/** @throws problem inspection-stopped where nobody answers any more */
async function mustAnswer({ person, number }: Job, question: string): Promise<string> {
  const answer = await person.answer(tame(question));
  if (answer === null) throw problem('inspection-stopped', number);
  return answer;
}

/** Decides the run as its points say, and writes the certificate. */
async function finish(job: Job): Promise<number> {
  const { station, number, run, say } = job;
  const outlook = continuityOutlook(run);
  const disposition: ContinuityDisposition = outlook === 'as-expected' ? 'accepted' : 'not-accepted';
  const reason = outlook === 'unsure' ? 'not every point can be told' : '';
  await station.ask('decide-continuity', { run: number, disposition, by: run.inspector, reason });
  const { file, sha256 } = await station.ask('write-continuity', { run: number });
  const tally = continuityTally(job.run);
  const nets = netResults(job.run).filter(({ state }) => state !== 'good');
  const swapped = swappedWords(job.run);
  if (job.options.json) {
    const simulated = isContinuityPractice(job.run);
    const found = nets.map(({ words: _, ...net }) => net);
    console.log(
      JSON.stringify({
        type: 'result',
        run: number,
        disposition,
        simulated,
        ...tally,
        nets: found,
        swapped,
        certificate: { file, sha256 },
      }),
    );
  } else {
    for (const { net, terminals, words } of nets) say(`Net ${net} (${terminals.join(' ')}): ${words}`);
    for (const words of swapped) say(words);
    say(`${DISPOSITION_WORDS[disposition]}: ${tallyWords(tally)}`);
    say(`Certificate: ${file}`);
    say(`SHA-256: ${sha256}`);
    for (const bound of CONTINUITY_BOUNDS) say(`- ${bound}`);
  }
  return disposition === 'accepted' ? exitStatus.good : exitStatus.bad;
}
