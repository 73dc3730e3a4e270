import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { normals } from '../core/statistics/seeded.ts';
import { pythonWith } from './python.ts';

const READINGS = 1_000_000;
/** What a meter of six digits would show of 4.7 kΩ. */
const LAST_DIGIT = 100;

type Figures = Record<string, number>;

/** What one way of analysing a million readings took and found. */
export interface AnalysisSpeed {
  milliseconds: number[];
  megabytes: number;
  microsecondsEach: number;
  /** numpy and scipy on the same readings; null where no Python here has them. */
  peer: { milliseconds: number[]; apart: { figure: string; share: number }[] } | null;
}

/** Analyses a million readings in a process of its own, and beside it the same figures with numpy and scipy. */
export function measureAnalysis(): AnalysisSpeed {
  const folder = mkdtempSync(join(tmpdir(), 'reelohm-bench-'));
  try {
    const file = join(folder, 'readings');
    const normal = normals(1);
    const readings = Float64Array.from(
      { length: READINGS },
      () => Math.round((4700 + 10 * normal()) * LAST_DIGIT) / LAST_DIGIT,
    );
    writeFileSync(file, readings);
    const ours = outside(process.execPath, [join(import.meta.dirname, 'analysisWork.ts'), file]);
    const python = pythonWith('numpy, scipy', 'python3-scipy');
    const peer = python === null ? null : outside(python, [join(import.meta.dirname, 'analysis.py'), file]);
    return { ...ours, peer: peer && { milliseconds: peer.milliseconds, apart: apart(ours.figures, peer.figures) } };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** How far apart two sets of figures are, each as a share of its size. */
function apart(ours: Figures, theirs: Figures): { figure: string; share: number }[] {
  return Object.entries(ours).map(([figure, value]) => {
    const other = theirs[figure] ?? Number.NaN;
    return { figure, share: Math.abs(value - other) / Math.max(Math.abs(value), Number.MIN_VALUE) };
  });
}

interface Found {
  milliseconds: number[];
  megabytes: number;
  microsecondsEach: number;
  figures: Figures;
}

function outside(program: string, args: string[]): Found {
  const { stdout, stderr, status } = spawnSync(program, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${program} failed: ${stderr}`);
  return JSON.parse(stdout);
}
