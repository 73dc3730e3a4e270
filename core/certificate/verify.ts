import { decide } from '../inspection/decide.ts';
import type { Disposition } from '../inspection/event.ts';
import { outlook } from '../inspection/outlook.ts';
import { isPractice, type Run } from '../inspection/run.ts';
import { Problem, type ProblemCode } from '../problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { planSource } from '../sampling/planWords.ts';
import { formatTolerance } from '../window/parseTolerance.ts';
import { CERTIFICATE } from './certificateFormat.ts';
import { cellsOf } from './csv.ts';
import type { FileBytes } from './fileBytes.ts';
import type { Form } from './form.ts';
import { type Decision, readRun } from './readRun.ts';
import { broken, RowReader } from './rowReader.ts';
import { type About, type Reprint, rowsOf } from './rowsOf.ts';
import { calibrationWords, checksDone, checksThat } from './summaryRows.ts';
import { DIGEST_FITS, type Intact, signatureWords, verifyClosed } from './verifyClosed.ts';

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
  /** Null for the first certificate of a decision. */
  reprint: Reprint | null;
  /** The public key that signed it, 64 characters of hex. Whose it is the file cannot say. */
  publicKey: string;
  /** Whether its numbers have a dot or a comma. */
  form: Form;
  /** SHA-256 (hex) of the whole file, as the record keeps it and `sha256sum` prints it. */
  sha256: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

/**
 * Checks a certificate file: that no byte was changed since it was written, that what it says follows from what was measured, and
 * that the key it names signed it. The run is read back from what was put in and its certificate is written anew: the file
 * holds only if every byte comes out the same. Only a block of the file is held at a time, beside the run with its packed readings.
 * @param tell told of rows, readings and figures as they are read and made anew
 * @throws problem certificate-broken, naming the first row and column that differ, else the digest or the signature
 */
export function verifyCertificate(file: FileBytes | Uint8Array, tell: TellProgress = TELL_NOBODY): Verified {
  const { found, publicKey, form, sha256 } = intact(file, tell);
  const { run, decided, about } = found;
  return {
    run: about.run,
    lot: run.lot.number,
    part: run.part.number,
    disposition: decided.disposition,
    simulated: isPractice(run),
    readings: run.readings.size,
    reprint: about.reprint,
    publicKey,
    form,
    sha256,
    checked: wordsFor(run, decided, publicKey),
  };
}

/** The run that an intact certificate is of, as far as its rows go. @throws problem certificate-broken */
export function runOfCertificate(file: FileBytes | Uint8Array, tell: TellProgress = TELL_NOBODY): Run {
  return intact(file, tell).found.run;
}

interface Found {
  run: Run;
  decided: Decision;
  about: About;
}

function intact(file: FileBytes | Uint8Array, tell: TellProgress): Intact<Found> {
  return verifyClosed<Found>(
    file,
    CERTIFICATE,
    (rows) => {
      const reader = new RowReader(rows);
      const { run: undecided, decided, about } = readRun(reader);
      const run = { ...undecided, decided };
      return {
        found: { run, decided, about },
        publicKey: about.publicKey,
        rows: cellsOfRows(run, about, tell),
        follow: () => mustFollow(undecided, decided, reader.count),
      };
    },
    tell,
  );
}

function* cellsOfRows(run: Run, about: About, tell: TellProgress): Generator<string[]> {
  for (const row of rowsOf(run, about, tell)) yield cellsOf(row);
}

/** A decision against the plan that nobody answers for as it takes. */
const UNANSWERED: ReadonlySet<ProblemCode> = new Set(['decision-against-plan', 'reason-missing', 'approval-missing']);

/** The four rows of the disposition end the file's rows. */
const ROWS_AFTER_DISPOSITION = 3;

/**
 * Refuses a disposition that does not follow from the run: against plan and tally, with nothing standing behind its readings, or
 * another one than holds and corrections came to.
 */
function mustFollow(run: Run, decided: Decision, length: number): void {
  const { disposition, by, reason, at, approvedBy } = decided;
  const row = length - ROWS_AFTER_DISPOSITION;
  if (run.decided !== null) {
    const { decided: came } = run;
    const isIt = (['disposition', 'by', 'reason', 'at', 'approvedBy'] as const).every(
      (fact) => came[fact] === decided[fact],
    );
    if (!isIt) throw broken(row, `${disposition} is not the decision that the rows before came to`);
    return;
  }
  const result = decide(run, { type: 'decide-lot', disposition, by, reason, approvedBy }, at);
  if (!(result instanceof Problem)) return;
  if (disposition === 'on-hold' && result.code === 'reason-missing') {
    throw broken(length - 1, 'a lot on hold must have a reason');
  }
  if (!UNANSWERED.has(result.code)) throw broken(row, `${disposition}, but ${result.what}`);
  const { tally, plan } = run;
  const counts = `${tally.nonconforming} nonconforming in ${tally.counted} of ${plan.sampleSize} pieces`;
  throw broken(row, `${disposition} against the plan: ${counts}, Ac ${plan.accept}, Re ${plan.reject}`);
}

function wordsFor(run: Run, decided: Decision, publicKey: string): string[] {
  const { window, part, tally, decision } = run;
  const from =
    part.tolerance.kind === 'limits' ? 'limits as given' : `${part.nominal} Ω ${formatTolerance(part.tolerance)}`;
  const known = knownUncertainties(run);
  const rule =
    decision.rule === 'simple-acceptance'
      ? decision.rule
      : `${decision.rule}, guard bands of ${decision.guardFactor} U`;
  return [
    DIGEST_FITS,
    signatureWords(publicKey),
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
    dispositionWords(run, decided),
  ];
}

function knownUncertainties({ readings }: Run): number {
  let known = 0;
  for (const { uncertainty } of readings) if (uncertainty !== null) known++;
  return known;
}

function dispositionWords(run: Run, { disposition, approvedBy }: Decision): string {
  if (approvedBy !== null)
    return `Disposition ${disposition} although the plan does not accept it: ${approvedBy} answers for it as well`;
  if (disposition === 'on-hold') return 'Disposition on-hold, which no plan has to allow';
  if (disposition === 'not-accepted' && outlook(run) === 'accept')
    return `Disposition ${disposition} although the plan would accept it`;
  const allows = run.plan.choice.kind === 'study' ? 'as all its turns are read' : 'as the plan says';
  return `Disposition ${disposition}, ${allows}`;
}

function planWords({ plan, lot, positions }: Run): string {
  const { choice, sampleSize, accept, reject, further, variables } = plan;
  if (choice.kind === 'study') {
    return `Study (${choice.design}) of ${choice.pieces} pieces in ${sampleSize} turns, in the order that follows from seed ${choice.seed}`;
  }
  const numbers = variables === null ? `Ac ${accept}, Re ${reject}` : `k ${variables.k}`;
  const more = further && `, with ${further.sampleSize} further pieces Ac ${further.accept}, Re ${further.reject}`;
  return `Sample ${sampleSize}, ${numbers}${more ?? ''}, for a lot of ${lot.size}. ${planSource(plan)}${positionsWords(positions)}`;
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
