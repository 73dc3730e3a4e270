import { readFile } from 'node:fs/promises';
import { verifyCertificate } from '../../core/certificate/verify.ts';
import { asProblem, problem, wordsOf } from '../../core/problem/problem.ts';
import { exitStatus } from './exitStatus.ts';

/** Verifies certificates, one line each. */
export async function verify(files: string[], { json = false }: { json?: boolean }): Promise<number> {
  let allIntact = true;
  for (const file of files) {
    try {
      const found = verifyCertificate(await bytesOf(file));
      if (json) console.log(JSON.stringify({ file, intact: true, ...found }));
      else {
        // What stands in a file of somebody else's must not steer this terminal.
        const [lot, part] = [found.lot, found.part].map((text) => text.replace(/[\p{Cc}\p{Cf}]/gu, ' '));
        const practice = found.simulated ? ' (simulated bench: practice)' : '';
        console.log(
          `${file}: intact. Run ${found.run}, lot ${lot}, part ${part}: ` +
            `${found.disposition.replace('-', ' ')}, ${found.readings} readings${practice}`,
        );
        for (const check of found.checked) console.log(`  ${check}`);
      }
    } catch (thrown) {
      allIntact = false;
      const problem = asProblem(thrown);
      if (json) console.log(JSON.stringify({ file, intact: false, problem }));
      else console.error(`${file}: ${problem.message}`);
    }
  }
  return allIntact ? exitStatus.good : exitStatus.bad;
}

async function bytesOf(file: string): Promise<Uint8Array> {
  try {
    return await readFile(file);
  } catch (thrown) {
    throw problem('file-unreadable', file, wordsOf(thrown));
  }
}
