import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { Answers, CheckedQuestion, Entry } from '../../core/contract/contract.ts';
import type { Command } from '../../core/inspection/decide.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem, wordsOf } from '../../core/problem/problem.ts';
import { certify } from '../certificates/certify.ts';
import type { StationKey } from '../certificates/stationKey.ts';
import type { Written } from '../certificates/writeUnderFreeName.ts';
import type { GoingOn, LongWorks } from './longWorks.ts';

type Asked = 'write-certificate' | 'read-certificate';

interface Surroundings {
  version: string;
  signer: StationKey;
  /** Where certificates are written that are given no name. */
  folder: string;
  works: LongWorks;
  runOf: (run: number) => Run;
  act: (run: number, command: Command) => Entry[];
  /** Work on a run, begun when that is there. */
  loaded: <T>(run: number, what: (going: GoingOn) => Promise<T>) => (going: GoingOn) => Promise<T>;
}

/** What the station answers of certificates of lots; `write` takes a file of the caller's choice. */
export function certificatesAsked({ version, signer, folder, works, runOf, act, loaded }: Surroundings) {
  async function certificate(
    { run: number, form }: CheckedQuestion<'write-certificate'>,
    going: GoingOn,
    file?: string,
  ): Promise<Answers['write-certificate']> {
    const run = runOf(number);
    const asked = { number, run, version, signer, form, folder, file };
    const naming = Promise.withResolvers<void>();
    const note = (written: Written): void => {
      // A hold may have been lifted meanwhile, something corrected, or another certificate written of which this would be a reprint.
      const { history, certificates } = runOf(number);
      const isAsItWas = history.size === run.history.size && certificates.length === run.certificates.length;
      if (!isAsItWas) throw problem('run-went-on', number);
      beingNamed.set(number, naming.promise);
      act(number, { type: 'note-certificate', ...written });
    };
    try {
      return await certify(asked, going, note);
    } finally {
      naming.resolve();
      if (beingNamed.get(number) === naming.promise) beingNamed.delete(number);
    }
  }

  /** By run, until its certificate has its name: who hears that one is written may ask for the file before that. */
  const beingNamed = new Map<number, Promise<void>>();

  async function readCertificate(number: number): Promise<Answers['read-certificate']> {
    await beingNamed.get(number);
    const written = runOf(number).certificates.at(-1);
    if (!written) throw problem('run-undecided');
    const bytes = await readFile(written.file).catch((thrown) => {
      throw problem('file-unreadable', written.file, wordsOf(thrown));
    });
    // Nobody is handed a file that is not the one the record knows.
    if (createHash('sha256').update(bytes).digest('hex') !== written.sha256) {
      throw problem('certificate-broken', written.file, 'it is not the file that was written');
    }
    return { file: written.file, text: bytes.toString('utf8') };
  }

  const write = (asked: CheckedQuestion<'write-certificate'>, file?: string): Promise<Answers['write-certificate']> =>
    works.begin(
      asked.work,
      loaded(asked.run, (going) => certificate(asked, going, file)),
    );
  const doing: { [N in Asked]: (question: CheckedQuestion<N>) => Promise<Answers[N]> } = {
    'write-certificate': (asked) => write(asked),
    'read-certificate': ({ run }) => readCertificate(run),
  };
  return { doing, write };
}
