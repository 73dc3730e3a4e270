import {
  bodyOf,
  type ClosedFormat,
  cellsOfBody,
  DIGEST_FITS,
  hexDigest,
  mustBeWrittenAlike,
  mustComeOutTheSame,
} from '../certificate/closedFile.ts';
import { Problem } from '../problem/problem.ts';
import { brokenStudy, readStudy } from './readStudy.ts';
import { type Study, studyOf } from './study.ts';
import { type StudyRecord, studyRows } from './studyFile.ts';
import { STUDY_COLUMNS, studyCells } from './studyFormat.ts';
import { sizeWords } from './words.ts';

/** What an intact study file says. */
export interface VerifiedStudy {
  record: StudyRecord;
  study: Study;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const FORMAT: ClosedFormat = { columns: STUDY_COLUMNS, inputs: 'the readings', broken: brokenStudy };

/**
 * Checks the file of a study: first that no byte was changed since it was written, then that every figure and every
 * conclusion follows from the readings in it, all worked out anew.
 * @throws problem study-broken, naming the digest or the first row and column that differ
 */
export function verifyStudy(bytes: Uint8Array): VerifiedStudy {
  const body = bodyOf(bytes, FORMAT);
  const cells = cellsOfBody(body, FORMAT);
  const record = readAgain(() => readStudy(cells));
  const study = readAgain(() => studyOf(record.of, record.window));
  const again = studyRows(record, study).map(studyCells);
  mustComeOutTheSame(cells, again, FORMAT);
  mustBeWrittenAlike(body, again, FORMAT);
  return { record, study, sha256: hexDigest(bytes), checked: wordsFor(record, study) };
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

function wordsFor({ choice, of }: StudyRecord, study: Study): string[] {
  return [
    DIGEST_FITS,
    choice === null
      ? `${of.readings.length} readings from a file`
      : `${of.readings.length} readings in the order that follows from seed ${choice.seed}`,
    study.design === 'crossed'
      ? `Table of variance, components, interval and categories of ${sizeWords({ pieces: study.pieces.length, operators: study.operators.length, repeats: study.repeats })}`
      : `Standard deviations of all levels${study.bias === null ? '' : ' and the bias'} of ${sizeWords({ pieces: study.pieces.length, runs: study.runs, sessions: study.sessions, repeats: study.repeats })}`,
    `${study.conclusions.length} conclusions and ${study.notes.length} notes`,
  ];
}
