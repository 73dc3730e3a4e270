import { mustBeProven } from '../inspection/decide.ts';
import type { Run } from '../inspection/run.ts';
import { problem } from '../problem/problem.ts';
import { TELL_NOBODY, type TellProgress } from '../progress/progress.ts';
import { CERTIFICATE } from './certificateFormat.ts';
import { signed, unsigned, writeUnsigned } from './closedFile.ts';
import { cellsOf } from './csv.ts';
import type { Form } from './form.ts';
import { type About, rowsOf } from './rowsOf.ts';
import type { Sha256 } from './sha256.ts';
import type { Signer } from './signature.ts';

/**
 * Writes the certificate of a decided run up to its digest row, chunk by chunk (see format.ts); its signature row is still to come.
 * Returns the digest that is to be signed.
 * @param put takes each chunk of bytes
 * @param tell told of readings and figures as they are written
 * @param hash a SHA-256 just begun, where there is a quick one
 * @throws problems run-undecided; and those of `mustBeProven` for a lot that was decided before checks of the bench were
 *   recorded, which no certificate of this format can say
 */
export function writeCertificate(
  run: Run,
  about: About,
  form: Form,
  put: (chunk: Uint8Array) => void,
  tell: TellProgress = TELL_NOBODY,
  hash?: Sha256,
): string {
  return writeUnsigned(rowsFor(run, about, tell), CERTIFICATE, form, put, hash);
}

/** The same as one text, signed: the whole of the file, to be kept as UTF-8. @throws problems of writeCertificate */
export function certificateOf(run: Run, about: Omit<About, 'publicKey'>, signer: Signer): string {
  const rows = rowsFor(run, { ...about, publicKey: signer.publicKey }, TELL_NOBODY);
  return signed(unsigned(rows, CERTIFICATE), CERTIFICATE, signer);
}

function* rowsFor(run: Run, about: About, tell: TellProgress): Generator<string[]> {
  if (!run.decided) throw problem('run-undecided');
  if (run.decided.disposition !== 'on-hold') mustBeProven(run, run.decided.firstAt);
  for (const row of rowsOf(run, about, tell)) yield cellsOf(row);
}
