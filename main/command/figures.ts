import { inMemory } from '../../core/certificate/fileBytes.ts';
import { runOfCertificate } from '../../core/certificate/verify.ts';
import { lotCauses } from '../../core/diagnosis/lotCauses.ts';
import type { LotExplained } from '../../core/diagnosis/oddLot.ts';
import { analysisOfRun, limitsOf } from '../../core/inspection/analysisOfRun.ts';
import { oddLotOf } from '../../core/inspection/oddLotOf.ts';
import { problem } from '../../core/problem/problem.ts';
import { type Analysis, analyse } from '../../core/statistics/analysis.ts';
import { studyOfRun } from '../../core/study/studyOfRun.ts';
import type { Window } from '../../core/window/window.ts';
import { claimedWindow } from '../station/studyFromFile.ts';
import { causeLines } from './causeLines.ts';
import { exitStatus } from './exitStatus.ts';
import { figureLines } from './figureLines.ts';
import { fileKind } from './fileKind.ts';
import { fileBytes } from './fileText.ts';
import { LiveLine } from './liveLine.ts';
import { readReadings } from './readingsFile.ts';
import { studyLines } from './studyLines.ts';
import { tame } from './tame.ts';

export interface FiguresOptions {
  nominal?: string;
  tolerance?: string;
  json?: boolean;
}

/** Where no window is given. */
const NO_WINDOW: Window = { nominal: null, lower: null, upper: null };

/** Says every figure of the readings in a file, with its source. */
export async function figures(file: string, options: FiguresOptions): Promise<number> {
  const bytes = await fileBytes(file);
  if (fileKind(inMemory(bytes)) === 'certificate') return figuresOfCertificate(file, bytes, options);
  const { nominal = '', tolerance = '' } = options;
  const window = nominal === '' && tolerance === '' ? NO_WINDOW : claimedWindow(nominal, tolerance);
  const { ohms, without } = readReadings(file, bytes);
  say({ file, window, without, analysis: analyse(ohms, limitsOf(window)) }, options);
  return exitStatus.good;
}

function figuresOfCertificate(file: string, bytes: Uint8Array, options: FiguresOptions): number {
  if (options.nominal !== undefined || options.tolerance !== undefined) {
    throw problem('input-invalid', file, 'a certificate has its own window; leave out --nominal and --tolerance');
  }
  const line = new LiveLine(`Verifying ${tame(file)}`);
  const run = runOfCertificate(inMemory(bytes), line.tell);
  line.end();
  const study = studyOfRun(run);
  if (study) {
    if (options.json) console.log(JSON.stringify({ type: 'study', file, study }));
    else for (const line of studyLines(study)) console.log(line);
    return exitStatus.good;
  }
  const { analysis, valued } = analysisOfRun(run);
  const mayBe = lotCauses(oddLotOf(run));
  say({ file, window: run.window, without: run.tally.counted - valued.length, analysis, mayBe }, options);
  return exitStatus.good;
}

interface Said {
  file: string;
  window: Window;
  without: number;
  analysis: Analysis;
  /** What may be wrong with lot or bench; left out of readings of which nothing but their values is known. */
  mayBe?: readonly LotExplained[];
}

function say({ file, window, without, analysis, mayBe }: Said, { json = false }: FiguresOptions): void {
  if (json) {
    console.log(JSON.stringify({ type: 'figures', file, window, withoutValue: without, analysis, mayBe }));
    return;
  }
  for (const line of figureLines(analysis, window, without)) console.log(line);
  for (const line of mayBe ? causeLines(mayBe) : []) console.log(line);
}
