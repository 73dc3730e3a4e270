import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { fold } from '../../../core/inspection/apply.ts';
import { checkFile } from '../../../main/record/checkFile.ts';
import { openRecord } from '../../../main/record/record.ts';
import { isOfInspection } from '../../../main/station/foldOne.ts';
import type { SeededRandom } from '../../campaign/seededRandom.ts';

/** Readings that a process may tell of before it is killed. */
const MOST_READINGS = 40;
/** Some kills come before the first reading: while the record is opened, and while the bench is checked. */
const SHARE_EARLY = 0.25;
const MOST_MILLISECONDS = 5;

/** What many kills in the middle of one run came to. */
export interface Kills {
  /** How many of them came when at least one reading had been told by the process that was killed. */
  amongReadings: number;
  readings: number;
  /** Every reading that was told and is not in the record as it was told, and whatever else was wrong. */
  faults: string[];
}

/**
 * Kills a process that measures, with no chance to say goodbye (SIGKILL), at random moments, again and again on one record. After each
 * the whole chain must be good and every reading that was told must be there.
 */
export async function killAgainAndAgain(folder: string, kills: number, random: SeededRandom): Promise<Kills> {
  const told = new Map<number, string>();
  const result: Kills = { amongReadings: 0, readings: 0, faults: [] };
  for (let kill = 1; kill <= kills; kill++) {
    const here = await killOnce(folder, random, told);
    if (here > 0) result.amongReadings++;
    const where = `kill ${kill}, after ${here} readings of its process`;
    result.faults.push(...faultsOf(folder, told).map((fault) => `${where}: ${fault}`));
  }
  result.readings = told.size;
  return result;
}

/** @returns how many readings the process told of before it was killed */
async function killOnce(folder: string, random: SeededRandom, told: Map<number, string>): Promise<number> {
  const child = spawn(process.execPath, [join(import.meta.dirname, 'measuringProcess.ts'), folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const exit = once(child, 'exit');
  const after = random.chance(SHARE_EARLY) ? 0 : random.whole(1, MOST_READINGS);
  const pause = random.fraction() * MOST_MILLISECONDS;
  let here = 0;
  for await (const line of createInterface({ input: child.stdout })) {
    const [what, reading, raw] = line.split(' ');
    if (what === 'reading') {
      told.set(Number(reading), raw ?? '');
      here++;
    }
    if ((what === 'open' && after === 0) || here === after) {
      void wait(after === 0 ? pause * 40 : pause).then(() => child.kill('SIGKILL'));
    }
  }
  const [, signal] = await exit;
  if (signal !== 'SIGKILL') throw new Error('the process ended by itself');
  return here;
}

function faultsOf(folder: string, told: ReadonlyMap<number, string>): string[] {
  try {
    checkFile({ file: join(folder, 'reelohm.sqlite') }, () => undefined);
    const record = openRecord(folder);
    const run = fold(
      Array.from(record.entries(1))
        .filter(isOfInspection)
        .map(({ event }) => event),
    );
    record.close();
    return [...told].flatMap(([reading, raw]) => {
      const kept = run?.readings.get(reading - 1);
      return kept?.raw === raw ? [] : [`reading ${reading} was told as ${raw} and is kept as ${kept?.raw}`];
    });
  } catch (thrown) {
    return [String(thrown)];
  }
}
