import { verifyCertificate } from '../../core/certificate/verify.ts';
import { verifyStress } from '../../core/drift/verifyStress.ts';
import { asProblem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { verifyStudy } from '../../core/study/verifyStudy.ts';
import { exitStatus } from './exitStatus.ts';
import { type FileKind, fileKind } from './fileKind.ts';
import { fileBytes } from './fileText.ts';
import { LiveLine } from './liveLine.ts';
import { tame } from './tame.ts';

/** What an intact file says: `facts` for a machine, `words` for a person. */
interface Intact {
  facts: object;
  words: string;
  checked: readonly string[];
}

const VERIFYING: Record<FileKind, (bytes: Uint8Array, tell: TellProgress) => Intact> = {
  certificate: (bytes, tell) => {
    const { checked, ...facts } = verifyCertificate(bytes, tell);
    const practice = facts.simulated ? ' (simulated bench: practice)' : '';
    const words = `Run ${facts.run}, lot ${facts.lot}, part ${facts.part}: ${facts.disposition.replace('-', ' ')}, ${facts.readings} readings${practice}`;
    return { facts, words, checked };
  },
  study: (bytes) => {
    const { record, study, sha256, checked } = verifyStudy(bytes);
    const { title, by, at, part } = record;
    const readings = record.of.readings.length;
    const words = `Study "${title}" by ${by}: ${study.design === 'crossed' ? 'crossed' : 'single operator'}, ${readings} readings`;
    return { facts: { title, by, at, part, design: study.design, readings, sha256 }, words, checked };
  },
  stress: (bytes, tell) => {
    const { record, result, sha256, checked } = verifyStress(bytes, tell);
    const { by, at, beforeSource, afterSource } = record;
    const { treatment, limitText, pieces, beyond, holds } = result;
    const facts = { treatment, by, at, beforeSource, afterSource, limit: limitText, pieces: pieces.length };
    return { facts: { ...facts, beyond, holds, sha256 }, words: `Stress test by ${by}: ${result.words}`, checked };
  },
};

/** Verifies certificates and results of studies and of comparisons before and after a treatment, one line each. */
export async function verify(files: string[], { json = false }: { json?: boolean }): Promise<number> {
  let allIntact = true;
  for (const file of files) {
    const line = new LiveLine(`Verifying ${tame(file)}`);
    try {
      const bytes = await fileBytes(file);
      // Whatever is none of ours is held against a certificate, which says what is wrong.
      const kind = fileKind(bytes) ?? 'certificate';
      const { facts, words, checked } = VERIFYING[kind](bytes, line.tell);
      line.end();
      if (json) console.log(JSON.stringify({ file, intact: true, kind, ...facts, checked }));
      else {
        console.log(`${file}: intact. ${tame(words)}`);
        for (const check of checked) console.log(`  ${tame(check)}`);
      }
    } catch (thrown) {
      line.end();
      allIntact = false;
      const problem = asProblem(thrown);
      if (json) console.log(JSON.stringify({ file, intact: false, problem }));
      else console.error(`${file}: ${problem.message}`);
    }
  }
  return allIntact ? exitStatus.good : exitStatus.bad;
}
