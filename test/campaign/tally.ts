import { FAULT_NAMES, type FaultName } from './fault.ts';

/** How the faults of a campaign ended. */
export class Tally {
  faults = 0;
  readings = 0;
  /** Readings that were accepted and not of the piece on the probes; each with what is needed to see it again. */
  readonly wrong: string[] = [];
  /** Operations that did not end. */
  readonly hangs: string[] = [];
  /** Errors that are not named, and meters that did not come back within the bound. */
  readonly failures: string[] = [];
  /** Of each fault, how often the reading it fell on ended in what. */
  readonly #ends = new Map<string, Map<string, number>>();

  /** @param problems codes of what the readings ended in before a right one came; none if the first was right */
  ended(faults: readonly FaultName[], problems: readonly string[]): void {
    this.faults += faults.length;
    const name = faults.length === 1 ? (faults[0] ?? '') : 'two faults at once';
    const ends = this.#ends.get(name) ?? new Map<string, number>();
    this.#ends.set(name, ends);
    for (const end of problems.length > 0 ? new Set(problems) : ['right reading'])
      ends.set(end, (ends.get(end) ?? 0) + 1);
  }

  get isGood(): boolean {
    return this.wrong.length + this.hangs.length + this.failures.length === 0;
  }

  /** Which faults never came. */
  get missing(): FaultName[] {
    return FAULT_NAMES.filter((name) => !this.#ends.has(name));
  }

  /** A line for each fault, the ways it ended with their counts behind it. */
  get table(): string {
    const rows = [...this.#ends].sort(([one], [other]) => one.localeCompare(other));
    return rows
      .map(([fault, ends]) => {
        const counts = [...ends].sort(([, one], [, other]) => other - one).map(([end, count]) => `${end} ${count}`);
        return `${fault.padEnd(32)}${counts.join(', ')}`;
      })
      .join('\n');
  }
}
