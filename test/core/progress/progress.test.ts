import { stringify } from 'csv-stringify/sync';
import { describe, expect, it } from 'vitest';
import { certificateOf, writeCertificate } from '../../../core/certificate/certificateOf.ts';
import { csvText } from '../../../core/certificate/csv.ts';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { readPartsFile } from '../../../core/part/partsFile.ts';
import { counting, type Progress, type TellProgress } from '../../../core/progress/progress.ts';
import { progressWords } from '../../../core/progress/progressWords.ts';
import { SIGNER } from '../../signer.ts';
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
    expect(() => written(acceptedRun(), stop)).toThrow('stopped');
    expect(() => readPartsFile('part,tolerance\nP,1 %', stop)).toThrow('stopped');
  });
});

/** The text of a certificate up to its digest row. */
function written(run: Run, tell: TellProgress): string {
  let text = '';
  const about = { ...ABOUT, publicKey: SIGNER.publicKey };
  writeCertificate(run, about, 'dot', (chunk) => (text += new TextDecoder().decode(chunk)), tell);
  return text;
}

describe('a certificate', () => {
  it('is the same whoever is told, and is told step by step, each up to its end', () => {
    const { told, tell } = listener();
    expect(certificateOf(acceptedRun(), ABOUT, SIGNER).startsWith(written(acceptedRun(), tell))).toBe(true);
    expect(stepsOf(told)).toEqual(['readings', 'figures']);
    expect(told.findLast(({ step }) => step === 'readings')).toMatchObject({ done: 6, of: 6 });
  });

  it('is verified step by step', () => {
    const size = 1000;
    const checks = { everyReadings: 1000 };
    const lot = { number: 'L', size };
    const begun = readyRun({ lot, plan: { sampleSize: size, accept: 0 }, checks });
    const run = withReadings(begun, ...Array<string>(size).fill('+4.70213E+03'));
    const bytes = bytesOf(certificateOf(decidedRun(run, 'accepted'), ABOUT, SIGNER));
    const { told, tell } = listener();
    expect(verifyCertificate(bytes, tell).readings).toBe(size);
    expect(stepsOf(told)).toEqual(['rows-read', 'readings', 'figures']);
  });
});

describe('CSV text', () => {
  it('is the same a thousand rows at a time as at one go', () => {
    const rows = Array.from({ length: 2500 }, (_, index) => [String(index), index % 7 === 0 ? 'a, "b"\n' : '']);
    expect(csvText(rows)).toBe(stringify(rows, { delimiter: ',', record_delimiter: '\r\n' }));
    expect(csvText([])).toBe('');
  });
});
