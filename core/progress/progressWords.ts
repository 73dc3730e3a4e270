import { formatCount } from '../quantity/formatCount.ts';
import type { Progress, ProgressStep } from './progress.ts';

const COUNTED: Record<ProgressStep, string> = {
  entries: 'entries',
  readings: 'readings',
  figures: 'groups of figures',
  'rows-read': 'rows read',
  'rows-written': 'rows written',
  lots: 'lots',
  pages: 'pages',
};

/** How far long work is, like `12 000 of 100 000 readings`. */
export function progressWords({ step, done, of }: Progress): string {
  return `${formatCount(done)} of ${formatCount(of)} ${COUNTED[step]}`;
}
