import type { Unsigned } from '../../core/certificate/closedFile.ts';
import type { CheckedQuestion } from '../../core/contract/contract.ts';
import { problem } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { importStudy } from '../../core/study/importStudy.ts';
import type { Reference, StudyReadings } from '../../core/study/reading.ts';
import { type Study, studyOf } from '../../core/study/study.ts';
import { type StudyRecord, studyFile } from '../../core/study/studyFile.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { type Window, windowOf } from '../../core/window/window.ts';
import { nameSafely } from '../certificates/writeUnderFreeName.ts';

type Imported = CheckedQuestion<'import-study'>;

/** Readings of a study from a file, and the window its shares of tolerance are of; null where they are not wanted. */
export interface StudyFromFile {
  of: StudyReadings;
  window: Window | null;
}

/** What such a file says. @throws problems of studyFromFile and studyOf */
export function studyOfFile(asked: Imported): Study {
  const { of, window } = studyFromFile(asked);
  return studyOf(of, window);
}

/**
 * The study that somebody's file of readings is.
 * @throws problems of importStudy, parseOhms, parseTolerance and windowOf; study-reference-unfit
 */
export function studyFromFile({ csv, nominal, tolerance, reference, referenceUncertainty }: Imported): StudyFromFile {
  const found = importStudy(new TextEncoder().encode(csv));
  const known = referenceOf(reference, referenceUncertainty);
  if (found.design === 'crossed' && known !== null) {
    throw problem('study-reference-unfit', 'a crossed study compares operators, not with a value');
  }
  return {
    of: found.design === 'crossed' ? found : { ...found, reference: known },
    window: nominal === '' && tolerance === '' ? null : claimedWindow(nominal, tolerance),
  };
}

/** The result file of such a study, to be signed. */
export function studyFileOf(
  asked: Imported & { by: string },
  written: Pick<StudyRecord, 'version' | 'publicKey' | 'at'>,
): Unsigned {
  const { title, by, part } = asked;
  return studyFile({ ...written, title, by, part, choice: null, ...studyFromFile(asked) });
}

/** A name for that file. */
export function studyName({ title }: Pick<Imported, 'title'>): string {
  return `study-${nameSafely(title, 'of_measurement')}`;
}

/** The window by nominal value and tolerance as typed. @throws problems of parseOhms, parseTolerance and windowOf */
export function claimedWindow(nominal: string, tolerance: string): Window {
  if (tolerance === '') throw problem('tolerance-missing', nominal);
  return windowOf(nominal === '' ? null : parseOhms(nominal), parseTolerance(tolerance));
}

/** @throws problem study-reference-unfit */
function referenceOf(ohms: string, uncertainty: string): Reference | null {
  if (ohms === '') {
    if (uncertainty !== '') throw problem('study-reference-unfit', 'there is an uncertainty but no value');
    return null;
  }
  return {
    ohms: plain(parseOhms(ohms)),
    uncertaintyOhms: uncertainty === '' ? null : plain(parseOhms(uncertainty)),
  };
}
