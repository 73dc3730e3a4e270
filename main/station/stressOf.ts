import Big from 'big.js';
import type { Unsigned } from '../../core/certificate/closedFile.ts';
import type { CheckedQuestion } from '../../core/contract/contract.ts';
import { importPieces } from '../../core/drift/importPieces.ts';
import { type ComparedSources, type PieceValue, type Stress, stressResult } from '../../core/drift/stress.ts';
import { type StressRecord, stressFile } from '../../core/drift/stressFile.ts';
import { parseStressLimit } from '../../core/drift/stressLimit.ts';
import { counts, isPractice, type Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { nameSafely } from '../certificates/writeUnderFreeName.ts';

type Asked = CheckedQuestion<'compare-stress'>;
type RunOf = (number: number) => Run;

/** Numbered pieces with their values, and where these are from, in words. */
interface Series {
  source: string;
  values: readonly PieceValue[];
  /** Null of a file. */
  run: Run | null;
}

/** The same pieces before and after a treatment. @throws problems of `stressOf` and stressResult */
export function compareStress(asked: Asked, runOf: RunOf): ComparedSources {
  const { beforeSource, afterSource, practice, of } = stressOf(asked, runOf);
  return { ...stressResult(of), beforeSource, afterSource, practice };
}

/** The file of that comparison, to be signed. @throws problems of `stressOf` and stressResult */
export function stressFileOf(
  asked: Asked & { by: string },
  runOf: RunOf,
  written: Pick<StressRecord, 'version' | 'publicKey' | 'at'>,
  tell?: TellProgress,
): Unsigned {
  const { practice: _, ...made } = stressOf(asked, runOf);
  return stressFile({ ...written, by: asked.by, ...made }, tell);
}

/** A name for that file. */
export function stressName({ treatment }: Pick<Asked, 'treatment'>): string {
  return `stress-${nameSafely(treatment, 'treatment')}`;
}

/** @throws problems of importPieces and parseStressLimit; run-unknown, stress-run-unfit */
function stressOf(
  { before, after, treatment, limit }: Asked,
  runOf: RunOf,
): Pick<ComparedSources, 'beforeSource' | 'afterSource' | 'practice'> & { of: Stress } {
  const [first, last] = [seriesOf(before, runOf), seriesOf(after, runOf)];
  if (first.run && last.run) mustBeAlike(first.source, first.run, last.source, last.run);
  return {
    beforeSource: first.source,
    afterSource: last.source,
    practice: [first, last].some(({ run }) => run !== null && isPractice(run)),
    of: { treatment, limit: parseStressLimit(limit), before: first.values, after: last.values },
  };
}

function seriesOf(asked: Asked['before'], runOf: RunOf): Series {
  if ('run' in asked) return seriesOfRun(asked.run, runOf(asked.run));
  return { source: asked.name, values: importPieces(new TextEncoder().encode(asked.csv)), run: null };
}

/** Every piece of a run with its reading that counts, by number; an open one without a value. */
function seriesOfRun(number: number, run: Run): Series {
  const { part, lot, plan, readings, ambientCelsius } = run;
  const at = ambientCelsius === null ? '' : `, at ${ambientCelsius} °C`;
  const practice = isPractice(run) ? ' (simulated bench: practice)' : '';
  const source = `run ${number}, lot ${lot.number}, part ${part.number}${at}${practice}`;
  if (plan.choice.kind === 'study') {
    throw problem('stress-run-unfit', source, 'it is a study, which reads its pieces again and again');
  }
  const values = readings
    .slice()
    .filter(counts)
    .map(({ piece, ohms, uncertainty }) => ({ piece, ohms, expandedOhms: uncertainty?.expandedOhms ?? null }))
    .sort((a, b) => a.piece - b.piece);
  if (values.length === 0) throw problem('stress-run-unfit', source, 'it has no reading that counts');
  return { source, values, run };
}

/**
 * Refuses runs whose pieces cannot be the same, and such as were read at temperatures that could be taken for the treatment.
 * @throws problem stress-run-unfit
 */
function mustBeAlike(first: string, before: Run, last: string, after: Run): void {
  if (isPractice(before) !== isPractice(after) || before.part.number !== after.part.number) {
    throw problem('stress-run-unfit', last, `its pieces are not those of ${first}`);
  }
  const [a, b] = [before.temperature, after.temperature];
  const corrected = a.coefficient.kind === 'known' || b.coefficient.kind === 'known';
  const alike =
    a.referenceCelsius === b.referenceCelsius && JSON.stringify(a.coefficient) === JSON.stringify(b.coefficient);
  if (corrected && !alike) {
    throw problem('stress-run-unfit', last, `its values were brought to another temperature than those of ${first}`);
  }
  // A limit of the coefficient is in the uncertainty of both values, a known one has been corrected for.
  if (a.coefficient.kind !== 'unknown' && b.coefficient.kind !== 'unknown') return;
  if (before.ambientCelsius === null || after.ambientCelsius === null) return;
  const apart = new Big(after.ambientCelsius).minus(before.ambientCelsius).abs();
  if (apart.gt(new Big(a.thermometerKelvins).plus(b.thermometerKelvins))) {
    throw problem(
      'stress-run-unfit',
      last,
      `they were read ${apart.toFixed()} K apart from those of ${first}, and how they move with temperature is not known`,
    );
  }
}
