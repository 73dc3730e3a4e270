import { expect, it } from 'vitest';
import { pageRules } from '../../renderer/print/pageRules.ts';

const EDGES = { size: 'A4', head: 'Certificate of run 1', marks: ['PRACTICE'], sha256: 'ab'.repeat(32) } as const;

it('lets no name of a lot end its string: what could is written by its number (CSS Syntax 3, 4.3.5)', () => {
  const rules = pageRules({ ...EDGES, head: 'lot "} @page { size: A5 } \\ \n' });
  expect(rules).toContain('content: "lot \\22 } @page { size: A5 } \\5c  \\a ";');
});

it('makes room for each mark, and leaves out the frame where there is none', () => {
  expect(pageRules({ ...EDGES, marks: [] })).not.toContain('@top-right');
  const margin = (marks: string[]) => Number(/margin: (\d+)mm/.exec(pageRules({ ...EDGES, marks }))?.[1]);
  expect(margin(['one', 'other'])).toBeGreaterThan(margin(['one']));
  expect(pageRules({ ...EDGES, marks: ['one', 'other'] })).toContain('content: "one" "\\A " "other";');
});
