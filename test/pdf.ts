import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TestContext } from 'vitest';
import { skipSaying } from './skipSaying.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** A page of a PDF as another program reads it. */
export interface PdfPage {
  /** In points, 72 to the inch. */
  width: number;
  height: number;
  /** In the order it was drawn, without any blanks and line ends. */
  text: string;
}

/** Skips the test, saying why, where poppler's programs are not there; on CI that is a failure. */
export function mustReadPdf(test: TestContext): void {
  if (spawnSync('pdftotext', ['-v']).status === 0) return;
  const reason = 'no pdftotext (Debian: apt install poppler-utils)';
  if (process.env.CI) throw new Error(reason);
  skipSaying(test, reason);
}

/** The pages of a PDF, read by poppler and not by the browser that made it. */
export function pagesOf(pdf: Uint8Array): PdfPage[] {
  const file = join(temporaryFolder(), 'read.pdf');
  writeFileSync(file, pdf);
  const texts = run('pdftotext', ['-raw', file, '-']).split('\f').slice(0, -1);
  const sizes = run('pdfinfo', ['-f', '1', '-l', String(texts.length), file]).matchAll(
    /^Page\s+\d+ size:\s+([\d.]+) x ([\d.]+) pts/gm,
  );
  return Array.from(sizes, ([, width, height], index) => ({
    width: Number(width),
    height: Number(height),
    text: (texts[index] ?? '').replace(/\s/g, ''),
  }));
}

function run(program: string, args: string[]): string {
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${program}: ${stderr}`);
  return stdout;
}
