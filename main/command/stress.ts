import { basename } from 'node:path';
import { requests } from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import type { StressResult } from '../../core/drift/stress.ts';
import { STRESS_CLOSED } from '../../core/drift/stressClosed.ts';
import { problem } from '../../core/problem/problem.ts';
import { compareStress, stressFileOf } from '../station/stressOf.ts';
import { exitStatus } from './exitStatus.ts';
import { fileText } from './fileText.ts';
import { type OutOptions, writeOut } from './outFile.ts';
import { tableLines } from './table.ts';
import { tame } from './tame.ts';

export interface StressOptions extends OutOptions {
  limit: string;
  treatment: string;
  json?: boolean;
}

/** Compares the pieces of two CSV files, before and after a treatment. */
export async function stress(before: string, after: string, options: StressOptions): Promise<number> {
  const { limit, treatment } = options;
  const asked = checked('stress', requests['compare-stress'], {
    before: { name: basename(before), csv: await fileText(before) },
    after: { name: basename(after), csv: await fileText(after) },
    treatment,
    limit,
  });
  const result = compareStress(asked, noRun);
  const written = await writeOut(options, STRESS_CLOSED, ({ by, ...made }) =>
    stressFileOf({ ...asked, by }, noRun, made),
  );
  if (options.json) console.log(JSON.stringify({ type: 'stress', result, written }));
  else {
    for (const line of stressLines(result)) console.log(tame(line));
    if (written) console.log(`Written: ${written.file}`);
  }
  // Where some could not be compared nothing is shown of the whole.
  return result.holds === null ? exitStatus.couldNot : result.holds ? exitStatus.good : exitStatus.bad;
}

/** Both lists come from files. */
function noRun(number: number): never {
  throw problem('run-unknown', number);
}

function stressLines({ pieces, change, limitText, words, notes }: StressResult): string[] {
  return [
    ...tableLines([
      ['piece', 'before / Ω', 'after / Ω', 'ΔR / Ω', 'ΔR/R / %', 'limit / Ω', ''],
      ...pieces.map((piece) => [
        piece.piece,
        piece.beforeOhms,
        piece.afterOhms ?? 'open',
        piece.changeOhms ?? '-',
        piece.changePercent ?? '-',
        `±${piece.limitOhms}`,
        piece.within ? 'within' : 'BEYOND',
      ]),
    ]),
    ...(change === null
      ? []
      : [`ΔR/R from ${change.lowestPercent} % to ${change.highestPercent} %, mean ${change.meanPercent} %`]),
    `Limit ${limitText} of each piece's own first value, the limit itself allowed (IEC 60115-1)`,
    words,
    ...notes.map((note) => `- ${note}`),
  ];
}
