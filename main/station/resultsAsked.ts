import type { Answers, CheckedQuestion } from '../../core/contract/contract.ts';
import { packRun } from '../../core/inspection/packedRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { doAside } from '../aside/doAside.ts';
import type { PackedRuns } from '../aside/tasks.ts';
import { now } from './clock.ts';
import type { LongWorks } from './longWorks.ts';
import { stressName } from './stressOf.ts';
import { studyName } from './studyFromFile.ts';

type Asked = 'compare-stress' | 'write-stress' | 'import-study' | 'write-study';

/** Characters that a piece of a run counts for, roughly. */
const CHARACTERS_OF_A_PIECE = 50;

interface Surroundings {
  works: LongWorks;
  /** @throws problem run-unknown */
  runOf: (number: number) => Run;
  /** Of this program. */
  version: string;
  /** Writes a text under a free name. */
  writeFile: (name: string, text: string) => Promise<Answers['write-study']>;
}

/** What the station answers of results that belong to no run: comparisons before and after a treatment, studies from files. */
export function resultsAsked({ works, runOf, version, writeFile }: Surroundings): {
  [N in Asked]: (question: CheckedQuestion<N>) => Promise<Answers[N]>;
} {
  /** The runs that a comparison is of, packed, and how much there is to work through. */
  function neededFor({ before, after }: CheckedQuestion<'compare-stress'>): { runs: PackedRuns; characters: number } {
    const runs = [before, after].flatMap((series) =>
      'run' in series ? [[series.run, runOf(series.run)] as const] : [],
    );
    const ofFiles = [before, after].reduce((sum, series) => sum + ('csv' in series ? series.csv.length : 0), 0);
    const ofRuns = runs.reduce((sum, [, run]) => sum + run.readings.size * CHARACTERS_OF_A_PIECE, 0);
    return { runs: runs.map(([number, run]) => [number, packRun(run)] as const), characters: ofFiles + ofRuns };
  }

  return {
    'compare-stress': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const { runs, characters } = neededFor(asked);
        return doAside('stress', { asked, runs }, { ...going, characters });
      }),
    'write-stress': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const { runs, characters } = neededFor(asked);
        const written = { version, at: now() };
        const text = await doAside('stress-file', { asked, runs, written }, { ...going, characters });
        going.throwIfStopped();
        return writeFile(stressName(asked), text);
      }),
    'import-study': ({ work, ...asked }) =>
      works.begin(work, (going) => doAside('study', { asked }, { ...going, characters: asked.csv.length })),
    'write-study': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const written = { version, at: now() };
        const text = await doAside('study-file', { asked, written }, { ...going, characters: asked.csv.length });
        going.throwIfStopped();
        return writeFile(studyName(asked), text);
      }),
  };
}
