import type { FileBytes } from '../certificate/fileBytes.ts';
import { DIGEST_FITS, signatureWords, verifyClosed } from '../certificate/verifyClosed.ts';
import { Problem } from '../problem/problem.ts';
import { brokenStudy, readStudy } from './readStudy.ts';
import { type Study, studyOf } from './study.ts';
import { STUDY_CLOSED } from './studyClosed.ts';
import { type StudyRecord, studyRows } from './studyFile.ts';
import { studyCells } from './studyFormat.ts';
import { sizeWords } from './words.ts';

/** What an intact study file says. */
export interface VerifiedStudy {
  record: StudyRecord;
  study: Study;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
  /** The public key that signed it, 64 characters of hex. */
  publicKey: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

/**
 * Checks the file of a study: that no byte was changed since it was written, that every figure and every conclusion follows from
 * the readings in it, all worked out anew, and that the key it names signed it.
 * @throws problem study-broken, naming the first row and column that differ, else the digest or the signature
 */
export function verifyStudy(file: FileBytes | Uint8Array): VerifiedStudy {
  const { found, sha256, publicKey } = verifyClosed(file, STUDY_CLOSED, (rows) => {
    const record = readAgain(() => readStudy([...rows]));
    const study = readAgain(() => studyOf(record.of, record.window));
    return {
      found: { record, study },
      publicKey: record.publicKey,
      rows: studyRows(record, study).map(studyCells),
    };
  });
  return { ...found, sha256, publicKey, checked: wordsFor(found.record, found.study) };
}

/** A problem with what the file says is a fault of the file. */
function readAgain<T>(read: () => T): T {
  try {
    return read();
  } catch (thrown) {
    if (thrown instanceof Problem && thrown.code !== 'study-broken') throw brokenStudy('its readings', thrown.what);
    throw thrown;
  }
}

function wordsFor({ choice, of, publicKey }: StudyRecord, study: Study): string[] {
  return [
    DIGEST_FITS,
    signatureWords(publicKey),
    choice === null
      ? `${of.readings.length} readings from a file`
      : `${of.readings.length} readings in the order that follows from seed ${choice.seed}`,
    study.design === 'crossed'
      ? `Table of variance, components, interval and categories of ${sizeWords({ pieces: study.pieces.length, operators: study.operators.length, repeats: study.repeats })}`
      : `Standard deviations of all levels${study.bias === null ? '' : ' and the bias'} of ${sizeWords({ pieces: study.pieces.length, runs: study.runs, sessions: study.sessions, repeats: study.repeats })}`,
    `${study.conclusions.length} conclusions and ${study.notes.length} notes`,
  ];
}
