import { BrokenFile } from '../../core/certificate/brokenFile.ts';
import type { FileBytes } from '../../core/certificate/fileBytes.ts';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { continuityTally, isContinuityPractice } from '../../core/continuity/continuityRun.ts';
import { DISPOSITION_WORDS, tallyWords } from '../../core/continuity/continuityWords.ts';
import { verifyContinuity } from '../../core/continuity/verifyContinuity.ts';
import { verifyStress } from '../../core/drift/verifyStress.ts';
import { asProblem, Problem } from '../../core/problem/problem.ts';
import type { TellProgress } from '../../core/progress/progress.ts';
import { verifyStudy } from '../../core/study/verifyStudy.ts';
import { withFileOnDisk } from '../certificates/fileOnDisk.ts';
import { keysIn, type SignedBy } from '../certificates/knownKeys.ts';
import { dataFolders } from '../station/dataFolder.ts';
import { exitStatus } from './exitStatus.ts';
import { type FileKind, fileKind } from './fileKind.ts';
import { LiveLine } from './liveLine.ts';
import { tame } from './tame.ts';

export interface VerifyOptions {
  json?: boolean;
  /** Where the key of this station is, and the keys that are known. */
  data?: string;
}

/** What an intact file says: `facts` for a machine, `words` for a person. */
interface Intact {
  facts: object;
  words: string;
  publicKey: string;
  checked: readonly string[];
}

const VERIFYING: Record<FileKind, (file: FileBytes, tell: TellProgress) => Intact> = {
  certificate: (file, tell) => {
    const { checked, publicKey, ...facts } = verifyCertificate(file, tell);
    const { run, lot, part, disposition, readings, simulated, reprint, form } = facts;
    const words = [
      `Run ${run}, lot ${lot}, part ${part}: ${disposition.replace('-', ' ')}, ${readings} readings`,
      simulated ? ' (simulated bench: practice)' : '',
      reprint ? `; reprint, copy ${reprint.copy} of ${reprint.at}` : '',
      form === 'comma' ? '; written with a decimal comma' : '',
    ];
    return { facts, words: words.join(''), publicKey, checked };
  },
  study: (file) => {
    const { record, study, sha256, publicKey, checked } = verifyStudy(file);
    const { title, by, at, part } = record;
    const readings = record.of.readings.length;
    const words = `Study "${title}" by ${by}: ${study.design === 'crossed' ? 'crossed' : 'single operator'}, ${readings} readings`;
    return { facts: { title, by, at, part, design: study.design, readings, sha256 }, words, publicKey, checked };
  },
  continuity: (file, tell) => {
    const { record, sha256, publicKey, checked } = verifyContinuity(file, tell);
    const { run, number } = record;
    const tally = continuityTally(run);
    const { disposition = null } = run.decided ?? {};
    const simulated = isContinuityPractice(run);
    const facts = { run: number, title: run.title, drawing: run.drawing, serial: run.serial, disposition, ...tally };
    const said = disposition === null ? 'undecided' : DISPOSITION_WORDS[disposition];
    const words = `Continuity run ${number}, ${run.title}: ${said}, ${tallyWords(tally)}${simulated ? ' (simulated bench: practice)' : ''}`;
    return { facts: { ...facts, simulated, sha256 }, words, publicKey, checked };
  },
  stress: (file, tell) => {
    const { record, result, sha256, publicKey, checked } = verifyStress(file, tell);
    const { by, at, beforeSource, afterSource } = record;
    const { treatment, limitText, pieces, beyond, holds } = result;
    const facts = { treatment, by, at, beforeSource, afterSource, limit: limitText, pieces: pieces.length };
    const words = `Stress test by ${by}: ${result.words}`;
    return { facts: { ...facts, beyond, holds, sha256 }, words, publicKey, checked };
  },
};

/** Verifies certificates of lots and of continuity runs, and results of studies and of comparisons before and after a treatment, one line each. */
export async function verify(files: string[], { json = false, data }: VerifyOptions): Promise<number> {
  const { data: folder } = dataFolders(data);
  // That keys cannot be read is held against no file.
  const whoseKey = await keysIn(folder);
  let allIntact = true;
  for (const file of files) {
    const line = new LiveLine(`Verifying ${tame(file)}`);
    try {
      const { kind, facts, words, publicKey, checked } = withFileOnDisk(file, (bytes) => {
        // Whatever is none of ours is held against a certificate, which says what is wrong.
        const kind = fileKind(bytes) ?? 'certificate';
        return { kind, ...VERIFYING[kind](bytes, line.tell) };
      });
      line.end();
      const signedBy = whoseKey(publicKey);
      if (json) console.log(JSON.stringify({ file, intact: true, kind, ...facts, signedBy, checked }));
      else {
        console.log(`${file}: intact. ${tame(words)}`);
        console.log(`  ${tame(signerWords(signedBy))}`);
        for (const check of checked) console.log(`  ${tame(check)}`);
      }
    } catch (thrown) {
      line.end();
      allIntact = false;
      const problem = asProblem(thrown);
      if (json)
        console.log(
          JSON.stringify({ file, intact: false, ...placeOf(problem), problem: Problem.prototype.toJSON.call(problem) }),
        );
      else console.error(`${file}: ${problem.message}`);
    }
  }
  return allIntact ? exitStatus.good : exitStatus.bad;
}

/** Where a file does not hold, as far as that can be told. */
function placeOf(problem: Problem): { row: number | null; column: string | null } {
  return problem instanceof BrokenFile ? { row: problem.row, column: problem.column } : { row: null, column: null };
}

function signerWords({ who, name, fingerprint }: SignedBy): string {
  switch (who) {
    case 'this-station':
      return `Signed by the key of this station, ${fingerprint}`;
    case 'known':
      return `Signed by "${name}", whose key is known here: ${fingerprint}`;
    case 'not-known':
      return `Signed by a key that is not known here: ${fingerprint}. Ask its owner whether it is theirs, then: reelohm key --trust FILE --as NAME`;
  }
}
