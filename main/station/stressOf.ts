import type { CheckedQuestion } from '../../core/contract/contract.ts';
import { importPieces } from '../../core/drift/importPieces.ts';
import { type PieceValue, type Stress, type StressResult, stressResult } from '../../core/drift/stress.ts';
import { type StressRecord, stressFile } from '../../core/drift/stressFile.ts';
import { parseStressLimit } from '../../core/drift/stressLimit.ts';
import { counts, type Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import { nameSafely } from '../certificates/writeUnderFreeName.ts';

type Asked = CheckedQuestion<'compare-stress'>;
type RunOf = (number: number) => Run;

/** Numbered pieces with their values, and where these are from, in words. */
interface Series {
  source: string;
  values: readonly PieceValue[];
  /** Practice on the simulated bench; null where it is not known, of a file. */
  practice: boolean | null;
}

/** The same pieces before and after a treatment. @throws problems of `stressOf` and stressResult */
export function compareStress(asked: Asked, runOf: RunOf): StressResult {
  return stressResult(stressOf(asked, runOf).of);
}

/** The text of the file of that comparison. @throws problems of `stressOf` and stressResult */
export function stressFileOf(
  asked: Asked & { by: string },
  runOf: RunOf,
  { version, at }: Pick<StressRecord, 'version' | 'at'>,
): string {
  return stressFile({ version, by: asked.by, at, ...stressOf(asked, runOf) });
}

/** A name for that file. */
export function stressName({ treatment }: Pick<Asked, 'treatment'>): string {
  return `stress-${nameSafely(treatment, 'treatment')}`;
}

/** @throws problems of importPieces and parseStressLimit; run-unknown, stress-run-unfit */
function stressOf(
  { before, after, treatment, limit }: Asked,
  runOf: RunOf,
): Pick<StressRecord, 'beforeSource' | 'afterSource'> & { of: Stress } {
  const [first, last] = [seriesOf(before, runOf), seriesOf(after, runOf)];
  if (first.practice !== null && last.practice !== null && first.practice !== last.practice) {
    throw problem('stress-run-unfit', last.source, `its pieces are not those of ${first.source}`);
  }
  return {
    beforeSource: first.source,
    afterSource: last.source,
    of: { treatment, limit: parseStressLimit(limit), before: first.values, after: last.values },
  };
}

function seriesOf(asked: Asked['before'], runOf: RunOf): Series {
  if ('run' in asked) return seriesOfRun(asked.run, runOf(asked.run));
  return { source: asked.name, values: importPieces(new TextEncoder().encode(asked.csv)), practice: null };
}

/** Every piece of a run with its reading that counts, by number; an open one without a value. */
function seriesOfRun(number: number, { part, lot, meter, plan, readings }: Run): Series {
  const practice = meter?.identity.simulated ?? false;
  const source = `run ${number}, lot ${lot.number}, part ${part.number}${practice ? ' (simulated bench: practice)' : ''}`;
  if (plan.choice.kind === 'study') {
    throw problem('stress-run-unfit', source, 'it is a study, which reads its pieces again and again');
  }
  const values = readings
    .filter(counts)
    .map(({ piece, ohms, uncertainty }) => ({ piece, ohms, expandedOhms: uncertainty?.expandedOhms ?? null }))
    .sort((a, b) => a.piece - b.piece)
    .toArray();
  if (values.length === 0) throw problem('stress-run-unfit', source, 'it has no reading that counts');
  return { source, values, practice };
}
