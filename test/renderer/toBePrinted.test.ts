import { expect, it } from 'vitest';
import { toBePrinted } from '../../renderer/print/toBePrinted.ts';
import { acceptedRun } from '../core/certificate/files.ts';
import { readyRun, walk } from '../core/inspection/walk.ts';

const WRITTEN = { type: 'note-certificate', file: 'L-1.csv', sha256: 'ab'.repeat(32) } as const;

it('prints no lot that is not decided, and none whose file is not written', () => {
  expect(toBePrinted(readyRun()).file).toBeNull();
  const { file, why } = toBePrinted(acceptedRun());
  expect(file).toBeNull();
  expect(why).toContain('not written yet');
});

it('prints the file that was written last', () => {
  const { file, why } = toBePrinted(walk(acceptedRun(), WRITTEN, { ...WRITTEN, file: 'L-2.csv' }));
  expect(file).toMatchObject({ file: 'L-2.csv' });
  expect(why).toBeNull();
});

it('prints none from before a correction', () => {
  const run = walk(acceptedRun(), WRITTEN, {
    type: 'correct-fact',
    fact: 'supplier',
    is: 'Other Supply',
    by: 'Ines Okoro',
    reason: 'wrong label',
  });
  const { file, why } = toBePrinted(run);
  expect(file).toBeNull();
  expect(why).toContain('Write it anew');
});
