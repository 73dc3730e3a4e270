import type { Analysis } from '../statistics/analysis.ts';
import { isRefused } from '../statistics/values.ts';
import { wordsRow } from './figureRow.ts';
import type { Valued } from './figureRows.ts';
import type { Row } from './format.ts';

/** From so many readings on several outliers are looked for at once (core/statistics/extremeDeviates.ts); below, for one. */
const SEVERAL_FROM = 15;

/** Readings that stand apart, by their pieces. */
export function outlierRows(analysis: Analysis, valued: readonly Valued[]): Row[] {
  const { outliers, words } = valued.length < SEVERAL_FROM ? one(analysis) : several(analysis);
  const left = [...valued];
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

function one({ grubbs: test }: Analysis): Found {
  if (isRefused(test)) return { outliers: [], words: test.refused };
  const { outlier, value } = test.twoSided;
  const words = [`${outlier ? '1 found' : 'None found'}, by Grubbs at 5 %, two-sided.`, ...test.notes].join(' ');
  return { outliers: outlier ? [value] : [], words };
}

function several({ extremeDeviates: test }: Analysis): Found {
  if (isRefused(test)) return { outliers: [], words: test.refused };
  const { outliers, notes } = test;
  const count = outliers.length === 0 ? 'None found' : `${outliers.length} found`;
  return { outliers, words: [`${count}, by generalised extreme Studentized deviates at 5 %.`, ...notes].join(' ') };
}
