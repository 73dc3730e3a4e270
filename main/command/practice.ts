import { resolve } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import { givenTable } from '../../core/certificate/givenTable.ts';
import { plainText, safeText } from '../../core/certificate/safeText.ts';
import { type PracticeResult, totalOf } from '../../core/practice/practisedRun.ts';
import { RESULT_COLUMNS, resultCells } from '../../core/practice/resultsCsv.ts';
import { problem } from '../../core/problem/problem.ts';
import { writeWhole } from '../certificates/writeWhole.ts';
import { readExercise, sealedText } from '../practice/exerciseFile.ts';
import { exerciseSchema } from '../practice/exerciseSchema.ts';
import { readExercises } from '../practice/exercises.ts';
import { exercisesFolder } from '../practice/exercisesFolder.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { exitStatus } from './exitStatus.ts';
import { fileBytes, fileText } from './fileText.ts';
import { tableLines } from './table.ts';
import { tame } from './tame.ts';
import { withStation } from './withStation.ts';

export interface PracticeOptions {
  json?: boolean;
  data?: string;
  out?: string;
  csv?: string;
}

/** Says which exercises there are, and what is wrong with files of one's own. */
export async function listCommand({ json, data }: PracticeOptions): Promise<number> {
  const { exercises, problems } = await readExercises(exercisesFolder(dataFolders(data).data));
  if (json) {
    for (const { open, digest, own } of exercises) {
      const { name, title, level, aim, minutes } = open;
      console.log(JSON.stringify({ type: 'exercise', name, title, level, aim, minutes, own, digest }));
    }
  } else {
    const rows = exercises.map(({ open: { name, level, title, minutes }, own }) => [
      ...[name, `level ${level}`, `${minutes} min`, title, own ? 'own' : ''],
    ]);
    for (const line of tableLines(rows, 'left')) console.log(tame(line));
  }
  for (const each of problems) console.error(each.message);
  return problems.length === 0 ? exitStatus.good : exitStatus.bad;
}

/** Checks the file of an exercise, plain or sealed. */
export async function checkCommand(file: string, { json }: PracticeOptions): Promise<number> {
  const { open, digest } = readExercise(file, await fileText(file));
  if (json) console.log(JSON.stringify({ type: 'exercise', name: open.name, title: open.title, digest }));
  else console.log(tame(`${open.name}: ${open.title}. The exercise has the SHA-256 ${digest}.`));
  return exitStatus.good;
}

/** Prints the JSON Schema of the files. */
export async function schemaCommand(): Promise<number> {
  console.log(JSON.stringify(exerciseSchema(), null, 2));
  return exitStatus.good;
}

/** Writes the file that is handed out, in which what is true is sealed. */
export async function sealCommand(file: string, { out, json }: PracticeOptions): Promise<number> {
  if (out === undefined) throw problem('input-invalid', '--out', 'name the file that is handed out');
  const exercise = readExercise(file, await fileText(file));
  await writeWhole(resolve(out), Buffer.from(sealedText(exercise)));
  const { digest } = exercise;
  if (json) console.log(JSON.stringify({ type: 'sealed', file: resolve(out), digest }));
  else console.log(tame(`${resolve(out)}: what is true is sealed; the exercise has the SHA-256 ${digest}.`));
  return exitStatus.good;
}

/** Says how the exercises of a record went; with the files of others, those too. */
export async function resultsCommand(others: readonly string[], options: PracticeOptions): Promise<number> {
  if (options.csv !== undefined && options.json) {
    throw problem('input-invalid', 'practice results', '--csv and --json exclude each other');
  }
  if (others.length > 0 && options.csv === undefined) {
    throw problem('input-invalid', 'practice results', 'files of others go into one file: name it by --csv');
  }
  const read = await Promise.all(others.map(readResults));
  const own = await withStation(options.data, (station) => station.ask('practice-results', {}));
  const rows = [...own.results.map(resultCells), ...read.flat()];
  if (options.csv !== undefined) {
    const file = resolve(options.csv);
    await writeWhole(file, Buffer.from(stringify([[...RESULT_COLUMNS], ...rows], { record_delimiter: '\r\n' })));
    console.log(tame(`${file}: ${rows.length} ${rows.length === 1 ? 'result' : 'results'}`));
  } else if (options.json) {
    for (const result of own.results)
      console.log(JSON.stringify({ type: 'result', ...result, total: totalOf(result) }));
  } else {
    for (const line of tableLines(own.results.map(shortly), 'left')) console.log(tame(line));
    console.error(`${own.results.length} ${own.results.length === 1 ? 'exercise' : 'exercises'} in the record`);
  }
  return exitStatus.good;
}

function shortly(result: PracticeResult): string[] {
  const total = totalOf(result);
  const points = total ? `${total.points} of ${total.of}` : result.decidedAt ? 'no debrief yet' : 'under way';
  return [result.trainee, result.exercise, `run ${result.run}`, points, result.named ?? ''];
}

/** Rows of a file that this command wrote at another machine. */
async function readResults(file: string): Promise<string[][]> {
  const unusable = (where: string, why: string) => problem('input-invalid', `${file}, ${where}`, why);
  const { columns, rows } = givenTable(await fileBytes(file), unusable);
  if (columns.join() !== RESULT_COLUMNS.join()) {
    throw unusable('row 1', 'these are not the columns that "practice results --csv" writes');
  }
  // Somebody may have written into it.
  return rows.map((row) => row.map((cell) => safeText(plainText(cell))));
}
