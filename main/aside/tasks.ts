import { writeCertificate } from '../../core/certificate/certificateOf.ts';
import type { Unsigned } from '../../core/certificate/closedFile.ts';
import type { Form } from '../../core/certificate/form.ts';
import type { About } from '../../core/certificate/rowsOf.ts';
import type { CheckedQuestion } from '../../core/contract/contract.ts';
import type { StressRecord } from '../../core/drift/stressFile.ts';
import { type PackedRun, unpackRun } from '../../core/inspection/packedRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { partsFile } from '../../core/part/partsFile.ts';
import { problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import type { StudyRecord } from '../../core/study/studyFile.ts';
import { sha256OfNode } from '../certificates/sha256OfNode.ts';
import { checkFile } from '../record/checkFile.ts';
import { knownParts } from '../station/knownParts.ts';
import { listWith, previewOf } from '../station/partsImport.ts';
import { compareStress, stressFileOf } from '../station/stressOf.ts';
import { studyFileOf, studyOfFile } from '../station/studyFromFile.ts';

/** Takes bytes that a task puts out before it is done, in order; they are the taker's from then on. */
export type PutOut = (bytes: Uint8Array) => void;

/** Runs by their numbers. */
export type PackedRuns = readonly (readonly [number: number, run: PackedRun])[];
type Written = Pick<StressRecord & StudyRecord, 'version' | 'publicKey' | 'at'>;

/**
 * What may be done in a thread of its own (see doAside.ts): it is given plain data, gives plain data and changes nothing.
 * Files are read here, never written.
 */
export const tasks = {
  /** Puts out the bytes of a run's certificate up to its digest row; gives the digest. @throws problems of writeCertificate */
  certificate: (
    { run, about, form }: { run: PackedRun; about: About; form: Form },
    tell: TellProgress,
    put: PutOut,
  ): string => writeCertificate(unpackRun(run), about, form, put, tell, sha256OfNode()),
  /** Whether all of a record's file is as it was written. @throws problems of checkFile */
  'check-record': (asked: Parameters<typeof checkFile>[0], tell: TellProgress) => checkFile(asked, tell),
  /** What importing a file of parts into the list of a data folder would do. @throws problems of previewOf */
  'preview-parts': ({ folder, csv }: { folder: string; csv: string }, tell: TellProgress) =>
    previewOf(knownParts(folder), csv, tell),
  /** The parts list of a data folder with those of a file, as the text of its own file. @throws problems of listWith */
  'list-with-parts': ({ folder, ...asked }: CheckedQuestion<'import-parts'> & { folder: string }, tell: TellProgress) =>
    listWith(knownParts(folder), asked, tell),
  /** The parts list of a data folder as CSV. @throws problems of reading it */
  'parts-file': async ({ folder }: { folder: string }, tell: TellProgress) =>
    partsFile([...(await knownParts(folder).all()).byNumber.values()], tell),
  /** @throws problems of compareStress */
  stress: ({ asked, runs }: { asked: CheckedQuestion<'compare-stress'>; runs: PackedRuns }) =>
    compareStress(asked, runIn(runs)),
  /** @throws problems of stressFileOf */
  'stress-file': (
    { asked, runs, written }: { asked: CheckedQuestion<'write-stress'>; runs: PackedRuns; written: Written },
    tell: TellProgress,
  ): Unsigned => stressFileOf(asked, runIn(runs), written, tell),
  /** @throws problems of studyOfFile */
  study: ({ asked }: { asked: CheckedQuestion<'import-study'> }) => studyOfFile(asked),
  /** @throws problems of studyFileOf */
  'study-file': ({ asked, written }: { asked: CheckedQuestion<'write-study'>; written: Written }): Unsigned =>
    studyFileOf(asked, written),
};

export type TaskName = keyof typeof tasks;
export type Given<N extends TaskName> = Parameters<(typeof tasks)[N]>[0];
export type Made<N extends TaskName> = Awaited<ReturnType<(typeof tasks)[N]>>;

/** Any of the tasks, by its name. */
export function task<N extends TaskName>(
  name: N,
): (given: Given<N>, tell: TellProgress, put: PutOut) => Made<N> | Promise<Made<N>> {
  return tasks[name] as never;
}

function runIn(runs: PackedRuns): (number: number) => Run {
  return (number) => {
    const found = runs.find(([each]) => each === number);
    if (!found) throw problem('run-unknown', number);
    return unpackRun(found[1]);
  };
}
