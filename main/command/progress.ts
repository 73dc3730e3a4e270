import type { InspectionEvent } from '../../core/inspection/event.ts';
import { wantedPieces } from '../../core/inspection/outlook.ts';
import { isPractice, type Run } from '../../core/inspection/run.ts';
import { severitySource } from '../../core/inspection/standingWords.ts';
import { asProblem } from '../../core/problem/problem.ts';
import { formatOhms, resolutionOfRaw } from '../../core/quantity/formatOhms.ts';
import { CHECK_WORDS } from '../../core/readiness/check.ts';
import { chancesSentence, planSentence, planSource } from '../../core/sampling/planWords.ts';
import { studyOfRun } from '../../core/study/studyOfRun.ts';
import type { Rule } from '../../core/window/decisionRule.ts';
import type { Verdict } from '../../core/window/judge.ts';
import { pieceWords, positionsWords } from './positionWords.ts';
import { studyLines } from './studyLines.ts';
import { turnAt, turnWords } from './turnWords.ts';

const VERDICT_WORDS: Record<Verdict, string> = {
  pass: 'pass',
  'conditional-pass': 'PASS ON CONDITION',
  'conditional-fail-low': 'FAIL LOW ON CONDITION',
  'conditional-fail-high': 'FAIL HIGH ON CONDITION',
  'fail-low': 'FAIL LOW',
  'fail-high': 'FAIL HIGH',
  open: 'OPEN',
};

/** Each by its name, as the file that describes the job has it. */
const RULE_WORDS: Record<Rule, (guardFactor: string) => string> = {
  'simple-acceptance': () => 'simple-acceptance: the uncertainty of a reading takes no part in its verdict',
  'guard-band': (factor) => `guard-band, guard bands of ${factor} × U inside the limits: what lies in them fails`,
  'non-binary': (factor) => `non-binary, guard bands of ${factor} × U: what lies in them passes or fails on condition`,
};

/** Says how far the job is: to a person on standard error, to a machine as JSON lines on standard output. */
export class Progress {
  readonly #json: boolean;
  /**
   * On a terminal a passing reading of the simulated bench overwrites the line before it; anything worth a second look stays.
   * At a real bench the next question stands below, and nothing is overwritten.
   */
  readonly #live = process.stderr.isTTY;

  constructor(json: boolean) {
    this.#json = json;
  }

  begin(number: number, run: Run): void {
    const { window, plan, lot, part, positions } = run;
    if (this.#json) {
      const { decision } = run;
      this.#print({ type: 'run', run: number, part: part.number, lot: lot.number, window, decision, plan, positions });
      return;
    }
    const limits = [
      window.lower ? `from ${formatOhms(window.lower)}` : '',
      window.upper ? `up to ${formatOhms(window.upper)}` : '',
    ];
    this.line(`Run ${number}: part ${part.number}, lot ${lot.number}, ${lot.size} pieces`);
    this.line(`Window ${limits.filter(Boolean).join(' ')}`);
    const { rule, guardFactor } = run.decision;
    if (plan.choice.kind === 'study') {
      const { pieces, operators, repeats, sessions, runs } = plan.choice;
      const times = [`${pieces} pieces`, `${operators.length} operators`, `${repeats} repeats`];
      if (plan.choice.design === 'single') times.push(`${sessions} sessions`, `${runs} runs`);
      this.line(`Study: ${times.join(' × ')} = ${plan.sampleSize} readings`);
      return;
    }
    this.line(`Decision rule: ${RULE_WORDS[rule](guardFactor)}`);
    this.line(`Plan: ${planSentence(plan, lot.size)}`);
    this.line(`  ${planSource(plan)}.`);
    this.line(`  ${chancesSentence(plan, lot.size)}`);
    const severity = severitySource(run);
    if (severity !== null) this.line(`  ${severity}`);
    if (!plan.everyPiece) this.line(`Pieces: ${positionsWords(positions)}`);
  }

  event(number: number, event: InspectionEvent, run: Run): void {
    if (this.#json) {
      const turn = event.type === 'reading-taken' ? turnAt(run, event.piece) : null;
      this.#print({ run: number, ...event, ...(turn && { turn }) });
      return;
    }
    if (event.type === 'meter-connected') {
      this.line(
        `Meter: ${event.meter.identity.text}${event.meter.identity.simulated ? ' (simulated bench: practice)' : ''}`,
      );
    }
    if (event.type === 'run-interrupted') this.line(`Interrupted: ${event.why}. Waiting for the meter.`);
    if (event.type === 'run-continued') this.line('The meter is back; the run goes on.');
    if (event.type === 'bench-checked')
      this.line(`Check of ${CHECK_WORDS[event.check]}: ${event.outcome.replace('-', ' ')}. ${event.why}`);
    if (event.type === 'readiness-expired') this.line(`The bench must be checked again: ${event.why}.`);
    if (event.type === 'calibration-overridden') this.line(`Calibration overridden by ${event.by}: ${event.reason}`);
    if (event.type === 'reading-taken') this.#reading(event, run);
  }

  #reading(event: Extract<InspectionEvent, { type: 'reading-taken' }>, run: Run): void {
    const { tally } = run;
    const turn = turnAt(run, event.piece);
    const text = [
      `${tally.counted}/${wantedPieces(run)}`,
      turn ? turnWords(run, turn) : pieceWords(event),
      valueWords(event),
      // A study judges the measurement, not the piece.
      ...(turn && event.verdict !== 'open' ? [] : [VERDICT_WORDS[event.verdict]]),
      ...(turn ? [] : [`(${tally.nonconforming} nonconforming)`]),
    ].join('  ');
    if (!this.#live || !isPractice(run)) this.line(text);
    else process.stderr.write(`\r\u001b[K${text}${event.verdict === 'pass' || turn ? '' : '\n'}`);
  }

  result(number: number, disposition: string, run: Run, certificate: { file: string; sha256: string }): void {
    const { counted, nonconforming, voided, suspect, ...verdicts } = run.tally;
    if (this.#json) {
      this.#print({ type: 'result', run: number, disposition, counted, nonconforming, ...verdicts, certificate });
      return;
    }
    const isStudy = run.plan.choice.kind === 'study';
    const outcome = isStudy ? `${counted} readings` : `${counted} measured, ${nonconforming} nonconforming`;
    this.line(`${disposition.replace('-', ' ').toUpperCase()}: ${outcome}`);
    this.line(`Certificate: ${certificate.file}`);
  }

  /** What the readings of a study say, or why they say nothing. */
  study(number: number, run: Run): void {
    try {
      const study = studyOfRun(run);
      if (study === null) return;
      if (this.#json) this.#print({ type: 'study', run: number, study });
      else for (const line of studyLines(study)) this.line(line);
    } catch (thrown) {
      this.line(asProblem(thrown).message);
    }
  }

  line(text: string): void {
    process.stderr.write(`${this.#live ? '\r\u001b[K' : ''}${text}\n`);
  }

  #print(value: unknown): void {
    process.stdout.write(`${JSON.stringify(value)}\n`);
  }
}

/** A reading's value with its expanded uncertainty, like `4.7021 kΩ ±0.97 Ω`. */
function valueWords({ ohms, raw, uncertainty }: Extract<InspectionEvent, { type: 'reading-taken' }>): string {
  if (ohms === null) return 'no value';
  const resolutionOhms = resolutionOfRaw(raw);
  const value = formatOhms(ohms, resolutionOhms === null ? {} : { resolutionOhms });
  return uncertainty === null ? value : `${value} ±${formatOhms(uncertainty.expandedOhms)}`;
}
