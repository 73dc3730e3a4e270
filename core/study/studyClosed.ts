import type { ClosedFormat } from '../certificate/closedFile.ts';
import { brokenStudy } from './readStudy.ts';
import { EARLIER_STUDY_FORMATS, STUDY_COLUMNS, STUDY_FORMAT } from './studyFormat.ts';

/** How the file of a study is closed and verified; it has no form with a decimal comma. */
export const STUDY_CLOSED: ClosedFormat = {
  name: STUDY_FORMAT,
  earlier: EARLIER_STUDY_FORMATS,
  columns: STUDY_COLUMNS,
  isNumeric: STUDY_COLUMNS.map(() => false),
  inputs: 'the readings',
  broken: brokenStudy,
};
