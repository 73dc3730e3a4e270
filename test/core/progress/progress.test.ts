import { stringify } from 'csv-stringify/sync';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { csvText } from '../../../core/certificate/csv.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { readPartsFile } from '../../../core/part/partsFile.ts';
import { counting, type Progress } from '../../../core/progress/progress.ts';
import { progressWords } from '../../../core/progress/progressWords.ts';
import { ABOUT, acceptedRun, bytesOf } from '../certificate/files.ts';
import { decidedRun, readyRun, withReadings } from '../inspection/walk.ts';

/** What long work told, and the teller. */
function listener(): { told: Progress[]; tell: (progress: Progress) => void } {
  const told: Progress[] = [];
  return { told, tell: (progress) => void told.push(progress) };
}

const stepsOf = (told: readonly Progress[]) => [...new Set(told.map(({ step }) => step))];

describe('long work', () => {
  it('tells of things now and then, and of the last', () => {
    const { told, tell } = listener();
    const things = Array.from({ length: 2500 }, (_, index) => index);
    expect([...counting(things, { step: 'lots', of: things.length }, tell)]).toEqual(things);
    expect(told.map(({ done }) => done)).toEqual([1000, 2000, 2500]);
  });

  it('says how far it is in words', () => {
    expect(progressWords({ step: 'readings', done: 12_000, of: 100_000 })).toBe('12\u00a0000 of 100\u00a0000 readings');
  });

  it('ends where whoever is told wants it to', () => {
    const stop = () => {
      throw new Error('stopped');
    };
    expect(() => certificateOf(acceptedRun(), ABOUT, stop)).toThrow('stopped');
    expect(() => readPartsFile('part,tolerance\nP,1 %', stop)).toThrow('stopped');
  });
});

describe('a certificate', () => {
  it('is the same whoever is told, and is told step by step, each up to its end', () => {
    const { told, tell } = listener();
    const text = certificateOf(acceptedRun(), ABOUT, tell);
    expect(text).toBe(certificateOf(acceptedRun(), ABOUT));
    expect(stepsOf(told)).toEqual(['readings', 'figures', 'rows-written']);
    expect(told.findLast(({ step }) => step === 'readings')).toMatchObject({ done: 6, of: 6 });
    const { done, of } = told.at(-1) as Progress;
    expect([done, of]).toEqual([text.split('\r\n').length - 2, text.split('\r\n').length - 2]);
  });

  it('is verified step by step', () => {
    const size = 1000;
    const checks = { everyReadings: 1000 };
    const lot = { number: 'L', size };
    const begun = readyRun({ lot, plan: { sampleSize: size, accept: 0 }, checks });
    const run = withReadings(begun, ...Array<string>(size).fill('+4.70213E+03'));
    const bytes = bytesOf(certificateOf(decidedRun(run, 'accepted'), ABOUT));
    const { told, tell } = listener();
    expect(verifyCertificate(bytes, tell).readings).toBe(size);
    expect(stepsOf(told)).toEqual(['rows-read', 'readings', 'figures', 'rows-written']);
  });
});

describe('CSV text', () => {
  it('is the same a thousand rows at a time as at one go', () => {
    const rows = Array.from({ length: 2500 }, (_, index) => [String(index), index % 7 === 0 ? 'a, "b"\n' : '']);
    expect(csvText(rows)).toBe(stringify(rows, { delimiter: ',', record_delimiter: '\r\n' }));
    expect(csvText([])).toBe('');
  });
});
