import { decide } from '../inspection/decide.ts';
import type { Disposition } from '../inspection/event.ts';
import { isPractice, type Run } from '../inspection/run.ts';
import { Problem, problem } from '../problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { formatTolerance } from '../window/parseTolerance.ts';
import {
  bodyOf,
  bodyOfColumns,
  type ClosedFormat,
  cellsIn,
  cellsOfBody,
  DIGEST_FITS,
  hexDigest,
  mustBeWrittenAlike,
  mustComeOutTheSame,
} from './closedFile.ts';
import { cellsOf } from './csv.ts';
import { COLUMNS, EARLIER_FORMATS } from './format.ts';
import { type Decision, readRun } from './readRun.ts';
import { broken, RowReader } from './rowReader.ts';
import { type About, rowsOf } from './rowsOf.ts';
import { calibrationWords, checksDone, checksThat } from './summaryRows.ts';

/** What an intact certificate says. */
export interface Verified {
  run: number;
  lot: string;
  part: string;
  disposition: Disposition;
  /** True for practice on the simulated bench. */
  simulated: boolean;
  /** All readings, those that were made void included. */
  readings: number;
  /** SHA-256 (hex) of the whole file, as the record keeps it and `sha256sum` prints it. */
  sha256: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const FORMAT: ClosedFormat = {
  columns: COLUMNS,
  inputs: 'the other rows',
  broken: (where, why) => problem('certificate-broken', where, why),
};

/**
 * Checks a certificate file: first that no byte was changed since it was written, then that what it says follows from
 * what was measured. For that the run is read back from what was put in and its certificate is written anew: the file
 * holds only if every cell comes out the same.
 * @param tell told of rows, readings and figures as they are read and made anew
 * @throws problem certificate-broken, naming the digest or the row
 */
export function verifyCertificate(bytes: Uint8Array, tell: TellProgress = TELL_NOBODY): Verified {
  const { run, decided, about } = intact(bytes, tell);
  return {
    run: about.run,
    lot: run.lot.number,
    part: run.part.number,
    disposition: decided.disposition,
    simulated: isPractice(run),
    readings: run.readings.size,
    sha256: hexDigest(bytes),
    checked: wordsFor(run, decided),
  };
}

/** The run that an intact certificate is of, as far as its rows go. @throws problem certificate-broken */
export function runOfCertificate(bytes: Uint8Array, tell: TellProgress = TELL_NOBODY): Run {
  return intact(bytes, tell).run;
}

function intact(bytes: Uint8Array, tell: TellProgress): { run: Run; decided: Decision; about: About } {
  mustNotBeEarlier(bytes);
  const body = bodyOf(bytes, FORMAT);
  const rows = cellsOfBody(body, FORMAT);
  const { run: undecided, decided, about } = readRun(new RowReader(rows, tell));
  const run = { ...undecided, decided };
  const again = rowsOf(run, about, tell).map(cellsOf);
  mustComeOutTheSame(rows, again, FORMAT);
  mustFollow(undecided, decided, rows.length);
  mustBeWrittenAlike(body, again, FORMAT, tell);
  return { run, decided, about };
}

/** An intact file of an earlier format is told as that, not as a changed one. */
function mustNotBeEarlier(bytes: Uint8Array): void {
  for (const { name, columns, is } of EARLIER_FORMATS) {
    const body = bodyOfColumns(bytes, columns);
    if (body && cellsIn(body, FORMAT)[1]?.[2] === name) {
      throw broken(2, `it is of ${is}, and was written by an earlier version of Reelohm`);
    }
  }
}

/**
 * Refuses a disposition that does not follow from the run: against plan and tally, or with nothing standing behind its
 * readings. Its three rows end the file's `length` rows.
 */
function mustFollow(run: Run, { disposition, by, reason, at }: Decision, length: number): void {
  const result = decide(run, { type: 'decide-lot', disposition, by, reason }, at);
  if (!(result instanceof Problem)) return;
  if (result.code === 'reason-missing') throw broken(length, 'a lot on hold must have a reason');
  if (result.code !== 'decision-against-plan') throw broken(length - 2, `${disposition}, but ${result.what}`);
  const { tally, plan } = run;
  const counts = `${tally.nonconforming} nonconforming in ${tally.counted} of ${plan.sampleSize} pieces`;
  throw broken(length - 2, `${disposition} against the plan: ${counts}, Ac ${plan.accept}, Re ${plan.reject}`);
}

function wordsFor(run: Run, decided: Decision): string[] {
  const { window, part, tally, decision } = run;
  const from =
    part.tolerance.kind === 'limits' ? 'limits as given' : `${part.nominal} Ω ${formatTolerance(part.tolerance)}`;
  const known = run.readings.slice().filter(({ uncertainty }) => uncertainty !== null).length;
  const rule =
    decision.rule === 'simple-acceptance'
      ? decision.rule
      : `${decision.rule}, guard bands of ${decision.guardFactor} U`;
  return [
    DIGEST_FITS,
    `Window ${window.lower ?? 'open'} to ${window.upper ?? 'open'} Ω, from ${from}`,
    planWords(run),
    checkWords(run),
    `Calibration: ${calibrationWords(run) || 'no meter was connected'}`,
    `${run.readings.size} readings: value and verdict of each from the meter's text less the zero${temperatureWords(run)}, ${tally.voided} of them void, ${tally.suspect} suspect`,
    `Decision rule ${rule}; expanded uncertainty of ${known} readings, each from what was known at the bench, and how probable it is that their verdicts are wrong`,
    `${tally.counted} counted, ${tally.nonconforming} nonconforming; lowest, highest and mean`,
    run.plan.choice.kind === 'study'
      ? 'Every figure of the study, from its readings'
      : 'Every figure of spread, capability, shape, outliers, trend and drift, from the readings that count',
    `Disposition ${decided.disposition} against the plan's ${run.plan.choice.kind === 'study' ? 'turns' : 'numbers'}`,
  ];
}

function planWords({ plan, lot, positions }: Run): string {
  const { choice, sampleSize, accept, reject } = plan;
  if (choice.kind === 'study') {
    return `Study (${choice.design}) of ${choice.pieces} pieces in ${sampleSize} turns, in the order that follows from seed ${choice.seed}`;
  }
  const chosen =
    choice.kind === 'aql'
      ? `a lot of ${lot.size}, level ${choice.level}, AQL ${choice.aql} (MIL-STD-105E, Table II-A)`
      : `agreed numbers for a lot of ${lot.size}`;
  return `Sample ${sampleSize}, Ac ${accept}, Re ${reject}, from ${chosen}${positionsWords(positions)}`;
}

function positionsWords(positions: Run['positions']): string {
  switch (positions.kind) {
    case 'random':
      return `; each position anew from seed ${positions.seed}`;
    case 'spread':
      return '; each position anew by the rule of beginning, middle and end';
    case 'as-taken':
      return '';
  }
}

function temperatureWords({ temperature: { coefficient, referenceCelsius } }: Run): string {
  return coefficient.kind === 'known' ? `, brought to ${referenceCelsius} °C` : '';
}

function checkWords(run: Run): string {
  const [failed, waived, byWord] = [checksThat(run, 'failed'), checksThat(run, 'waived'), checksThat(run, 'by-word')];
  return `${checksDone(run)} checks of the bench, in their order, each judged anew from what was read: ${failed} failed, ${waived} waived, ${byWord} by word only`;
}
