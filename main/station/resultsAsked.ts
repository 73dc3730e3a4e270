import { type ClosedFormat, signed, type Unsigned } from '../../core/certificate/closedFile.ts';
import type { Signer } from '../../core/certificate/signature.ts';
import type { Answers, CheckedQuestion } from '../../core/contract/contract.ts';
import { STRESS_CLOSED } from '../../core/drift/stressClosed.ts';
import { packRun } from '../../core/inspection/packedRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { STUDY_CLOSED } from '../../core/study/studyClosed.ts';
import { doAside } from '../aside/doAside.ts';
import type { PackedRuns } from '../aside/tasks.ts';
import { now } from './clock.ts';
import type { KeptRuns } from './keptRuns.ts';
import type { GoingOn, LongWorks } from './longWorks.ts';
import { stressName } from './stressOf.ts';
import { studyName } from './studyFromFile.ts';

type Asked = 'compare-stress' | 'write-stress' | 'import-study' | 'write-study';

/** Characters that a piece of a run counts for, roughly. */
const CHARACTERS_OF_A_PIECE = 50;

interface Surroundings {
  works: LongWorks;
  runs: Pick<KeptRuns, 'load'>;
  /** Of this program. */
  version: string;
  /** Signs what is written. */
  signer: Signer;
  /** Writes a text under a free name. */
  writeFile: (name: string, text: string) => Promise<Answers['write-study']>;
}

/** What the station answers of results that belong to no run: comparisons before and after a treatment, studies from files. */
export function resultsAsked({ works, runs: kept, version, signer, writeFile }: Surroundings): {
  [N in Asked]: (question: CheckedQuestion<N>) => Promise<Answers[N]>;
} {
  /** The runs that a comparison is of, packed, and how much there is to work through. */
  async function neededFor(
    { before, after }: CheckedQuestion<'compare-stress'>,
    going: GoingOn,
  ): Promise<{ runs: PackedRuns; characters: number }> {
    const runs: [number, Run][] = [];
    for (const series of [before, after]) {
      if ('run' in series) runs.push([series.run, (await kept.load(series.run, going)).run]);
    }
    const ofFiles = [before, after].reduce((sum, series) => sum + ('csv' in series ? series.csv.length : 0), 0);
    const ofRuns = runs.reduce((sum, [, run]) => sum + run.readings.size * CHARACTERS_OF_A_PIECE, 0);
    return { runs: runs.map(([number, run]) => [number, packRun(run)] as const), characters: ofFiles + ofRuns };
  }

  const written = () => ({ version, publicKey: signer.publicKey, at: now() });
  const writeSigned = (name: string, file: Unsigned, format: ClosedFormat) =>
    writeFile(name, signed(file, format, signer));

  return {
    'compare-stress': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const { runs, characters } = await neededFor(asked, going);
        return doAside('stress', { asked, runs }, { ...going, characters });
      }),
    'write-stress': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const { runs, characters } = await neededFor(asked, going);
        const file = await doAside('stress-file', { asked, runs, written: written() }, { ...going, characters });
        going.throwIfStopped();
        return writeSigned(stressName(asked), file, STRESS_CLOSED);
      }),
    'import-study': ({ work, ...asked }) =>
      works.begin(work, (going) => doAside('study', { asked }, { ...going, characters: asked.csv.length })),
    'write-study': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const given = { asked, written: written() };
        const file = await doAside('study-file', given, { ...going, characters: asked.csv.length });
        going.throwIfStopped();
        return writeSigned(studyName(asked), file, STUDY_CLOSED);
      }),
  };
}
