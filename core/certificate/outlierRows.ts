import type { Valued } from '../inspection/analysisOfRun.ts';
import type { Analysis } from '../statistics/analysis.ts';
import { isRefused } from '../statistics/values.ts';
import { wordsRow } from './figureRow.ts';
import type { Row } from './format.ts';

/** Readings that stand apart, by their pieces: several looked for at once, or the furthest where there are too few. */
export function outlierRows(analysis: Analysis, valued: () => readonly Valued[]): Row[] {
  const { outliers, words } = foundIn(analysis);
  const left = outliers.length === 0 ? [] : [...valued()];
  return [
    wordsRow('outliers', words),
    ...outliers.map((value): Row => {
      const index = left.findIndex((reading) => reading.value === value);
      const [found] = left.splice(index, 1);
      return { row: 'figure', item: 'outlier', piece: String(found?.piece ?? ''), ohms: found?.ohms ?? '' };
    }),
  ];
}

interface Found {
  outliers: number[];
  words: string;
}

function foundIn({ extremeDeviates: several, grubbs: one }: Analysis): Found {
  if (!isRefused(several)) {
    const { outliers, notes } = several;
    const count = outliers.length === 0 ? 'None found' : `${outliers.length} found`;
    return { outliers, words: [`${count}, by generalised extreme Studentized deviates at 5 %.`, ...notes].join(' ') };
  }
  if (isRefused(one)) return { outliers: [], words: one.refused };
  const { outlier, value } = one.twoSided;
  const words = [`${outlier ? '1 found' : 'None found'}, by Grubbs at 5 %, two-sided.`, ...one.notes].join(' ');
  return { outliers: outlier ? [value] : [], words };
}
