import { existsSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { CERTIFICATE } from '../../core/certificate/certificateFormat.ts';
import { signatureRow } from '../../core/certificate/closedFile.ts';
import { csvwMetadata, METADATA_ENDS } from '../../core/certificate/csvwMetadata.ts';
import type { Form } from '../../core/certificate/form.ts';
import { reprintOf } from '../../core/certificate/rowsOf.ts';
import type { Signer } from '../../core/certificate/signature.ts';
import { packRun } from '../../core/inspection/packedRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import { doAside } from '../aside/doAside.ts';
import { now } from '../station/clock.ts';
import type { GoingOn } from '../station/longWorks.ts';
import { FileBeingWritten } from './fileBeingWritten.ts';
import { firstFree, nameSafely, nameWithBeside, type Written } from './writeUnderFreeName.ts';

/** What a certificate is made of, and where it goes. */
export interface ToCertify {
  number: number;
  run: Run;
  /** Of this program. */
  version: string;
  signer: Signer;
  form: Form;
  /** Gets it under a free name, unless a file is chosen. */
  folder: string;
  file: string | undefined;
}

/** Characters of a certificate for each reading, roughly. */
const CHARACTERS_OF_A_READING = 110;

/**
 * Writes the certificate of a decided run, signed, with its metadata beside it: both whole or not at all. Its rows are made aside and
 * written as they come.
 * @param note takes down that it is written, when it is on the disk and before it gets its name: where the process is killed between,
 *   the next one is a reprint, and there are never two that are none
 * @throws certificate-exists, certificate-unwritable, work-stopped, those of writeCertificate and of `note`
 */
export async function certify(asked: ToCertify, going: GoingOn, note: (written: Written) => void): Promise<Written> {
  const { number, run, version, signer, form } = asked;
  const file = asked.file === undefined ? undefined : resolve(asked.file);
  const folder = file === undefined ? asked.folder : dirname(file);
  const written = await FileBeingWritten.begin(folder);
  try {
    const { publicKey } = signer;
    const about = { run: number, version, publicKey, reprint: reprintOf(run, now()) };
    const digest = await doAside(
      'certificate',
      { run: packRun(run), about, form },
      { ...going, characters: run.readings.size * CHARACTERS_OF_A_READING, put: (bytes) => written.put(bytes) },
    );
    written.put(Buffer.from(signatureRow(digest, CERTIFICATE, form, signer)));
    const sha256 = await written.finish();
    going.throwIfStopped();
    const beside = {
      ends: METADATA_ENDS,
      textFor: (name: string) => csvwMetadata({ name, form, sha256, digest, publicKey }),
    };
    const take = async (name: string) => {
      if (existsSync(name) || existsSync(`${name}${METADATA_ENDS}`)) throw problem('certificate-exists', name);
      note({ file: name, sha256 });
      await nameWithBeside(written, name, beside);
    };
    if (file === undefined) {
      return { file: await firstFree(folder, nameFor(asked), take, run.certificates.length + 1), sha256 };
    }
    await take(file);
    return { file, sha256 };
  } finally {
    await written.end();
  }
}

/** A file name that says what is in it. */
function nameFor({ number, run, form }: ToCertify): string {
  return `${nameSafely(run.lot.number, 'lot')}-run-${number}${form === 'comma' ? '-decimal-comma' : ''}`;
}
