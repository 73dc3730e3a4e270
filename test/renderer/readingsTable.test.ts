import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { nextPosition, type Run } from '../../core/inspection/run.ts';
import { ReadingsTable } from '../../renderer/charts/readingsTable.tsx';
import { readyRun, walk, withReadings } from '../core/inspection/walk.ts';

/** The cells of a table as a screen shows them, row by row. */
function cellsOf(run: Run): string[][] {
  const html = renderToStaticMarkup(createElement(ReadingsTable, { run }));
  return [...html.matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row = '']) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell = '']) => cell.replace(/<[^>]*>/g, '').trim()),
  );
}
const columnOf = (run: Run, name: string) => {
  const [header = [], ...rows] = cellsOf(run);
  for (const row of rows) expect(row).toHaveLength(header.length);
  return rows.map((row) => row[header.indexOf(name)]?.replaceAll('\u00a0', ' '));
};

describe('the table of readings', () => {
  it('says where pieces were taken, and where they were asked for where that is another place', () => {
    let run = readyRun({ positions: { kind: 'spread' }, lot: { number: 'L', size: 5000 } });
    run = withReadings(run, '4700.1', '4700.2');
    expect(nextPosition(run)).toBe(2500);
    run = withReadings(walk(run, { type: 'say-position', position: 2503 }), '4700.3');
    run = walk(run, { type: 'void-reading', reading: 3, by: 'Ines Okoro', reason: 'slipped' });
    // The last reading first, one that was made void among them.
    expect(columnOf(run, 'Position')).toEqual(['2 503, asked for 2 500', '2', '1']);
    expect(columnOf(run, 'Piece')).toEqual(['3', '2', '1']);
  });

  it('has no such column where positions are not known', () => {
    const run = withReadings(readyRun(), '4700.1');
    expect(cellsOf(run)[0]).not.toContain('Position');
    expect(columnOf(run, 'Piece')).toEqual(['1']);
  });
});
