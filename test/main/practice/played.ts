import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { CAUTIONS } from '../../../core/inspection/cautions.ts';
import type { Disposition } from '../../../core/inspection/event.ts';
import { outlook } from '../../../core/inspection/outlook.ts';
import { checkDue, type Run } from '../../../core/inspection/run.ts';
import type { PracticeAct } from '../../../core/practice/practiceAct.ts';
import type { PracticeCause } from '../../../core/practice/practiceCause.ts';
import type { Station } from '../../../main/station/station.ts';
import { openedStation } from '../../openedStation.ts';
import { runOf } from '../../readyBench.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

const SHIPPED = join(import.meta.dirname, '../../../instruments/exercises');
export const TRAINEE = 'Noor Haddad';

/** A trainee at the real station, whose simulated bench takes no time; everything else is the exercise as it is shipped. */
export class Played {
  readonly station: Station;
  readonly run: number;

  private constructor(station: Station, run: number) {
    this.station = station;
    this.run = run;
  }

  static async begin(name: string, trainee = TRAINEE, at?: { station: Station }): Promise<Played> {
    const station = at?.station ?? stationWith(name);
    const { run } = await station.ask('begin-exercise', { exercise: name, trainee });
    await station.ask('connect-meter', { run, address: 'sim:' });
    await station.ask('confirm-bench', { run, by: trainee, cautions: [...CAUTIONS] });
    return new Played(station, run);
  }

  now(): Promise<Run> {
    return runOf(this.station, this.run);
  }

  /** Does the checks that are due, up to one that fails. @returns the name of that one, or null */
  async checks(waived = false): Promise<string | null> {
    for (;;) {
      const check = checkDue(await this.now());
      if (check === null) return null;
      const more = waived && check === 'reference' ? { waived: 'no time for that' } : {};
      const { entry } = await this.station.ask('check-bench', { run: this.run, by: TRAINEE, check, ...more });
      if (entry.event.type === 'bench-checked' && entry.event.outcome === 'failed') return check;
    }
  }

  act(act: PracticeAct): Promise<unknown> {
    return this.station.ask('act-at-bench', { run: this.run, act });
  }

  /** Reads pieces until checks are due, the plan wants no more, or so many are read. */
  async read(most = 1000): Promise<Run> {
    for (let count = 0; count < most; count++) {
      const run = await this.now();
      if (checkDue(run) !== null || (outlook(run) !== 'undecided' && run.again.length === 0)) break;
      await this.station.ask('take-reading', { run: this.run });
    }
    return this.now();
  }

  async voidLast(reason: string): Promise<void> {
    const { readings } = await this.now();
    await this.station.ask('void-reading', { run: this.run, reading: readings.size, by: TRAINEE, reason });
  }

  /** Checks and reads until the plan wants no more and all is proven; a check that fails is met with the act. */
  async through(onFailure?: PracticeAct): Promise<void> {
    for (let turn = 0; turn < 40; turn++) {
      const failed = await this.checks();
      if (failed !== null) {
        if (!onFailure) return;
        await this.act(onFailure);
        continue;
      }
      const run = await this.read();
      if (checkDue(run) === null && outlook(run) !== 'undecided') return;
    }
    throw new Error('the exercise comes to no end');
  }

  name(cause: PracticeCause, which: number | null = null): Promise<unknown> {
    return this.station.ask('name-cause', { run: this.run, cause, which });
  }

  /** Decides and has the debrief. @returns points by mark, as a share of what each is worth */
  async decide(disposition: Disposition, reason = ''): Promise<Record<string, number>> {
    await this.station.ask('decide-lot', { run: this.run, by: TRAINEE, disposition, reason });
    await this.station.ask('debrief', { run: this.run });
    const { scored } = (await this.now()).practised;
    return Object.fromEntries((scored?.marks ?? []).map(({ mark, points, of }) => [mark, points / of]));
  }
}

function stationWith(name: string): Station {
  const folder = temporaryFolder();
  const text = readFileSync(join(SHIPPED, `${name}.json`), 'utf8');
  const exercise = JSON.parse(text);
  const { scenario } = exercise.truth;
  const quick = {
    ...exercise,
    truth: { ...exercise.truth, scenario: { ...scenario, meter: { ...scenario.meter, pace: 'none' } } },
  };
  mkdirSync(join(folder, 'exercises'), { recursive: true });
  writeFileSync(join(folder, 'exercises', `${name}.json`), JSON.stringify(quick));
  return openedStation(folder);
}
