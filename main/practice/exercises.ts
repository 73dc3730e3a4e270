import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { asProblem, type Problem, problem } from '../../core/problem/problem.ts';
import { type Exercise, readExercise } from './exerciseFile.ts';
import { shippedExercises } from './shippedExercises.ts';

/** All exercises there are, the easier ones first, and what is wrong with files of the user's own. */
export interface Exercises {
  exercises: (Exercise & { own: boolean })[];
  problems: Problem[];
}

/**
 * The exercises that come with the program and those in the user's own folder, `<folder>/*.json`; one of the user's own takes the place
 * of a shipped one of its name. A file that is wrong is left out and what is wrong with it told.
 */
export async function readExercises(folder: string): Promise<Exercises> {
  const byName = new Map<string, Exercise & { own: boolean }>();
  for (const exercise of shippedExercises()) byName.set(exercise.open.name, { ...exercise, own: false });
  const problems: Problem[] = [];
  for (const file of await filesIn(folder)) {
    try {
      const exercise = readExercise(file, await readFile(join(folder, file), 'utf8'));
      byName.set(exercise.open.name, { ...exercise, own: true });
    } catch (thrown) {
      problems.push(asProblem(thrown));
    }
  }
  const exercises = [...byName.values()].sort((a, b) => a.open.level - b.open.level);
  return { exercises, problems };
}

/** @throws problem exercise-unknown */
export async function exerciseNamed(folder: string, name: string): Promise<Exercise> {
  const found = (await readExercises(folder)).exercises.find(({ open }) => open.name === name);
  if (!found) throw problem('exercise-unknown', name);
  return found;
}

async function filesIn(folder: string): Promise<string[]> {
  try {
    return (await readdir(folder)).filter((file) => file.toLowerCase().endsWith('.json')).sort();
  } catch {
    // Nobody has put a file there yet.
    return [];
  }
}
