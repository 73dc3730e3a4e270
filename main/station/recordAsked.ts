import { stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Answers, CheckedQuestion, RunSummary } from '../../core/contract/contract.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { doAside } from '../aside/doAside.ts';
import { backUp } from '../record/backUp.ts';
import { exportRecord } from '../record/exportRecord.ts';
import type { Record } from '../record/record.ts';
import { now } from './clock.ts';
import type { DataFolders } from './dataFolder.ts';
import type { KeptRuns } from './keptRuns.ts';
import { keepLastRecordCheck, readLastRecordCheck } from './lastRecordCheck.ts';
import type { LongWorks } from './longWorks.ts';
import { summaryOf } from './runSummary.ts';

type Asked = 'record-facts' | 'check-record' | 'back-up-record' | 'export-record';

/** Runs that are told of without being looked for. */
const LATEST = 50;
const TO_GO_ON = 200;

interface Surroundings {
  record: Record;
  works: LongWorks;
  folders: DataFolders;
}

/** What the station answers of its record as a whole. */
export function recordAsked({ record, works, folders }: Surroundings): {
  [N in Asked]: (question: CheckedQuestion<N>) => Answers[N] | Promise<Answers[N]>;
} {
  const [backups, exports] = [join(folders.data, 'backups'), join(folders.data, 'exports')];
  return {
    'record-facts': async () => ({
      file: record.file,
      bytes: await bytesOf([record.file, `${record.file}-wal`]),
      entries: record.size(),
      runs: record.rows.count() + record.continuity.count(),
      backupFolder: backups,
      exportFolder: exports,
      lastCheck: await readLastRecordCheck(folders.data),
    }),
    'check-record': ({ work }) =>
      works.begin(work, async (going) => {
        const known = record.end();
        const characters = Number.POSITIVE_INFINITY;
        const found = (problem: ProblemText | null) =>
          keepLastRecordCheck(folders.data, { at: now(), entries: known.position, problem });
        const checked = await doAside('check-record', { file: record.file, known }, { ...going, characters }).catch(
          async (thrown: unknown) => {
            const problem = asProblem(thrown);
            // A full disk must not hide what was found.
            if (problem.code !== 'work-stopped') await found(problem.toJSON()).catch(() => undefined);
            throw problem;
          },
        );
        going.throwIfStopped();
        record.markChecked({ position: checked.entries, hash: checked.hash });
        await found(null);
        return checked;
      }),
    'back-up-record': ({ work, file }) =>
      works.begin(work, (going) =>
        backUp(record.file, resolve(file ?? join(backups, `reelohm-${moment()}.sqlite`)), going),
      ),
    'export-record': ({ work, folder }) =>
      works.begin(work, (going) =>
        exportRecord(record.file, resolve(folder ?? join(exports, `reelohm-${moment()}`)), going),
      ),
  };
}

/** The latest runs and those to go on with, in the order of their numbers, and how many there are. */
export function latestRuns({ rows }: Record, runs: KeptRuns): Pick<Answers['overview'], 'runs' | 'runCount'> {
  const found = new Map([...rows.latest(LATEST), ...rows.toGoOn(TO_GO_ON)].map((row) => [row.run, row]));
  const inOrder = [...found.values()].sort((a, b) => a.run - b.run);
  return { runs: asTheyAreNow(inOrder, runs), runCount: rows.count() };
}

/** Of a run that is under way the row is as it was before its latest readings. */
export function asTheyAreNow<T extends RunSummary>(rows: readonly T[], runs: KeptRuns): T[] {
  return rows.map((row) => {
    const run = runs.peek(row.run);
    return run ? { ...row, ...summaryOf(row.run, run) } : row;
  });
}

/** Bytes of files together; one that is not there has none. */
async function bytesOf(files: readonly string[]): Promise<number> {
  const sizes = await Promise.all(
    files.map((file) =>
      stat(file).then(
        ({ size }) => size,
        () => 0,
      ),
    ),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
}

/** The time now as it may stand in a name, like `2026-03-02T14-05-09`. */
function moment(): string {
  return new Date().toISOString().slice(0, 19).replaceAll(':', '-');
}
