import type { InspectionEvent } from '../../core/inspection/event.ts';
import type { Run } from '../../core/inspection/run.ts';
import { formatOhms, resolutionOfRaw } from '../../core/quantity/formatOhms.ts';
import { CHECK_WORDS } from '../../core/readiness/check.ts';

const VERDICT_WORDS = { pass: 'pass', 'fail-low': 'FAIL LOW', 'fail-high': 'FAIL HIGH', open: 'OPEN' } as const;

/** Says how far the job is: to a person on standard error, to a machine as JSON lines on standard output. */
export class Progress {
  readonly #json: boolean;
  /** On a terminal a passing reading overwrites the line before it; anything worth a second look stays. */
  readonly #live = process.stderr.isTTY;

  constructor(json: boolean) {
    this.#json = json;
  }

  begin(number: number, run: Run): void {
    const { window, plan, lot, part } = run;
    if (this.#json) {
      this.#print({ type: 'run', run: number, part: part.number, lot: lot.number, window, plan });
      return;
    }
    const limits = [
      window.lower ? `from ${formatOhms(window.lower)}` : '',
      window.upper ? `up to ${formatOhms(window.upper)}` : '',
    ];
    this.line(`Run ${number}: part ${part.number}, lot ${lot.number}, ${lot.size} pieces`);
    this.line(`Window ${limits.filter(Boolean).join(' ')}`);
    this.line(`Plan: measure ${plan.sampleSize}, accept up to ${plan.accept}, not accepted at ${plan.reject}`);
  }

  event(number: number, event: InspectionEvent, run: Run): void {
    if (this.#json) {
      this.#print({ run: number, ...event });
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
    const resolutionOhms = resolutionOfRaw(event.raw);
    const value =
      event.ohms === null ? 'no value' : formatOhms(event.ohms, resolutionOhms === null ? {} : { resolutionOhms });
    const text =
      `${run.tally.counted}/${run.plan.sampleSize}  piece ${event.piece}  ${value}  ${VERDICT_WORDS[event.verdict]}` +
      `  (${run.tally.nonconforming} nonconforming)`;
    if (!this.#live) this.line(text);
    else process.stderr.write(`\r\u001b[K${text}${event.verdict === 'pass' ? '' : '\n'}`);
  }

  result(number: number, disposition: string, run: Run, certificate: { file: string; sha256: string }): void {
    const { counted, nonconforming, failLow, failHigh, open } = run.tally;
    if (this.#json) {
      this.#print({
        type: 'result',
        run: number,
        disposition,
        counted,
        nonconforming,
        failLow,
        failHigh,
        open,
        certificate,
      });
      return;
    }
    this.line(`${disposition.replace('-', ' ').toUpperCase()}: ${counted} measured, ${nonconforming} nonconforming`);
    this.line(`Certificate: ${certificate.file}`);
  }

  line(text: string): void {
    process.stderr.write(`${this.#live ? '\r\u001b[K' : ''}${text}\n`);
  }

  #print(value: unknown): void {
    process.stdout.write(`${JSON.stringify(value)}\n`);
  }
}
