import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { hypergeometricAtMost } from '../../core/sampling/hypergeometric.ts';
import { exactAtMost } from '../core/sampling/exactFractions.ts';
import { pythonWith } from './python.ts';

/** What is worked out: lots of half a million, samples of letter Q, few accepted. The same numbers stand in plans.py. */
const LOT = 500_000;
const SAMPLE = 1250;
const EVALUATIONS = 200_000;
const ROUNDS = 5;

/** One way of working out chances of acceptance in a lot. */
export interface PlanSpeed {
  /** Evaluations a second, round by round. */
  rates: number[];
  /** Furthest from exact fractions, as a share of the chance. */
  apart: number;
}

/** Chances of acceptance by our own hypergeometric distribution, and beside it by scipy; null where no Python here has that. */
export function measurePlans(): { ours: PlanSpeed; scipy: PlanSpeed | null } {
  const checked = [0, 1, 3, 7].flatMap((most) => [25, 400, 1000, 5000, 20_000].map((bad) => [most, bad] as const));
  const exact = checked.map(([most, nonconforming]) =>
    exactAtMost(most, { lotSize: LOT, nonconforming, sampleSize: SAMPLE }),
  );
  const apart = (chances: number[]) =>
    Math.max(...chances.map((chance, index) => Math.abs(chance / (exact[index] as number) - 1)));
  const rates = Array.from({ length: ROUNDS }, oneRound);
  const ours = checked.map(([most, nonconforming]) =>
    hypergeometricAtMost(most, { lotSize: LOT, nonconforming, sampleSize: SAMPLE }),
  );
  const peer = byScipy(checked);
  return { ours: { rates, apart: apart(ours) }, scipy: peer && { rates: peer.rates, apart: apart(peer.chances) } };
}

function oneRound(): number {
  const start = performance.now();
  let sum = 0;
  for (let index = 0; index < EVALUATIONS; index++) {
    sum += hypergeometricAtMost(index % 8, {
      lotSize: LOT,
      nonconforming: 100 + (index % 3000),
      sampleSize: SAMPLE,
    });
  }
  if (!(sum > 0)) throw new Error('chances that add up to nothing');
  return EVALUATIONS / ((performance.now() - start) / 1000);
}

function byScipy(checked: (readonly [number, number])[]): { rates: number[]; chances: number[] } | null {
  const python = pythonWith('numpy, scipy', 'python3-scipy');
  if (python === null) return null;
  const { stdout, stderr, status } = spawnSync(python, [join(import.meta.dirname, 'plans.py')], {
    encoding: 'utf8',
    input: JSON.stringify(checked),
  });
  if (status !== 0) throw new Error(`${python} failed: ${stderr}`);
  return JSON.parse(stdout);
}
