import { type Unsigned, unsigned } from '../certificate/closedFile.ts';
import { keyText } from '../certificate/signature.ts';
import { statisticsOf } from '../certificate/statistics.ts';
import type { Window } from '../window/window.ts';
import { type CrossedStudy, POOLING_RULE } from './crossed.ts';
import type { StudyReadings } from './reading.ts';
import { TOLERANCE_RULE } from './shareOfTolerance.ts';
import type { SingleStudy } from './single.ts';
import { type Study, studyOf } from './study.ts';
import { STUDY_CLOSED } from './studyClosed.ts';
import { degrees, figure, probability, STUDY_FORMAT, type StudyRow, studyCells } from './studyFormat.ts';
import type { StudyChoice } from './studyPlan.ts';
import type { VarianceRow } from './varianceTable.ts';

/** A study as it goes into a file: what was studied, by whom, and the readings. */
export interface StudyRecord {
  /** Version of the program that writes the file. */
  version: string;
  /** The public key it is signed by, 64 characters of hex. */
  publicKey: string;
  /** What the study is of, in words. */
  title: string;
  /** Who made it. */
  by: string;
  /** When, in ISO 8601 with offset. */
  at: string;
  /** Part number; empty where none was given. */
  part: string;
  window: Pick<Window, 'lower' | 'upper'> | null;
  /** The choice it was measured by, in whose order the readings are; null for readings from a file. */
  choice: StudyChoice | null;
  of: StudyReadings;
}

/**
 * The result of a study: the text of its CSV file (see studyFormat.ts) up to its digest row, to be signed and kept as UTF-8.
 * @throws problems of studyOf
 */
export function studyFile(record: StudyRecord): Unsigned {
  return unsigned(studyRows(record, studyOf(record.of, record.window)).map(studyCells), STUDY_CLOSED);
}

/** All rows of the file but header, digest and signature, in order. */
export function studyRows(record: StudyRecord, study: Study): StudyRow[] {
  return [
    ...aboutRows(record),
    ...choiceRows(record.choice),
    { row: 'part', item: 'number', text: record.part },
    {
      row: 'part',
      item: 'window',
      lower_ohms: record.window?.lower ?? '',
      upper_ohms: record.window?.upper ?? '',
    },
    ...referenceRows(record.of),
    ...ruleRows(study.design),
    ...readingRows(record.of),
    ...(study.design === 'crossed' ? crossedRows(study) : singleRows(study, record.of)),
    ...study.conclusions.map(({ about, grade, text }): StudyRow => ({ row: 'conclusion', item: about, text, grade })),
    ...study.notes.map((text, index): StudyRow => ({ row: 'note', item: String(index + 1), text })),
  ];
}

function aboutRows({ version, publicKey, title, by, at, of, choice }: StudyRecord): StudyRow[] {
  const about = (item: string, text: string): StudyRow => ({ row: 'study', item, text });
  return [
    about('format', STUDY_FORMAT),
    about('program version', version),
    about('key', keyText(publicKey)),
    about('title', title),
    about('made by', by),
    about('made at', at),
    about('design', of.design),
    about('readings', choice === null ? 'from a file' : 'measured in random order'),
  ];
}

function choiceRows(choice: StudyChoice | null): StudyRow[] {
  if (choice === null) return [];
  const { pieces, operators, repeats, sessions, runs, seed } = choice;
  const chosen = (item: string, text: string): StudyRow => ({ row: 'choice', item, text });
  return [
    chosen('pieces', String(pieces)),
    ...operators.map((operator): StudyRow => ({ row: 'choice', item: 'operator', operator })),
    chosen('repeats', String(repeats)),
    chosen('sessions', String(sessions)),
    chosen('runs', String(runs)),
    chosen('seed', String(seed)),
  ];
}

function referenceRows(of: StudyReadings): StudyRow[] {
  if (of.design === 'crossed' || of.reference === null) return [];
  return [
    { row: 'reference', item: 'value', ohms: of.reference.ohms },
    { row: 'reference', item: 'expanded uncertainty', text: 'k = 2', ohms: of.reference.uncertaintyOhms ?? '' },
  ];
}

function ruleRows(design: Study['design']): StudyRow[] {
  const rule = (item: string, text: string): StudyRow => ({ row: 'rule', item, text });
  return [
    ...(design === 'crossed'
      ? [
          rule('method', 'Two-way analysis of variance, pieces and operators at random (Houf and Berman 1988)'),
          rule('interaction', POOLING_RULE),
          rule('negative components', 'set to zero, and a note says so'),
        ]
      : [rule('method', 'Levels 1 to 3 of NIST/SEMATECH e-Handbook 2.6.1')]),
    rule('tolerance', TOLERANCE_RULE),
    rule('digits', 'Figures are rounded to 6 significant digits, p to 6 decimals'),
  ];
}

function readingRows(of: StudyReadings): StudyRow[] {
  return of.design === 'crossed'
    ? of.readings.map(
        ({ piece, operator, repeat, ohms }, index): StudyRow => ({
          row: 'reading',
          item: String(index + 1),
          piece,
          operator,
          repeat: String(repeat),
          ohms,
        }),
      )
    : of.readings.map(
        ({ piece, run, session, repeat, ohms }, index): StudyRow => ({
          row: 'reading',
          item: String(index + 1),
          piece,
          run: String(run),
          session: String(session),
          repeat: String(repeat),
          ohms,
        }),
      );
}

function crossedRows(study: CrossedStudy): StudyRow[] {
  return [
    ...study.table.map((row) => varianceRow('variance', row)),
    ...(study.pooledTable ?? []).map((row) => varianceRow('pooled', row)),
    ...study.components.map(
      (component): StudyRow => ({
        row: 'component',
        item: component.source,
        sd_ohms: figure(component.sdOhms),
        variance: figure(component.variance),
        percent_of_variance: figure(component.percentOfVariance),
        percent_of_study_variation: figure(component.percentOfStudyVariation),
        percent_of_tolerance: figure(component.percentOfTolerance),
      }),
    ),
    {
      row: 'gauge',
      item: 'standard deviation, 95 % interval',
      lower_ohms: figure(study.gaugeInterval.lowerOhms),
      upper_ohms: figure(study.gaugeInterval.upperOhms),
    },
    { row: 'gauge', item: 'distinct categories', text: String(study.distinctCategories) },
  ];
}

function varianceRow(row: 'variance' | 'pooled', of: VarianceRow): StudyRow {
  return {
    row,
    item: of.source,
    df: degrees(of.df),
    sum_of_squares: figure(of.sumOfSquares),
    mean_square: figure(of.meanSquare),
    f: figure(of.f),
    p: probability(of.p),
  };
}

function singleRows(study: SingleStudy, of: StudyReadings): StudyRow[] {
  const { repeatability, repeatabilityInterval, dayToDay, runToRun, oneReading, sessionsDiffer, bias } = study;
  const level = (item: string, found: SingleStudy['dayToDay']): StudyRow[] =>
    found === null ? [] : [{ row: 'level', item, sd_ohms: figure(found.sdOhms), df: degrees(found.df) }];
  return [
    {
      row: 'level',
      item: 'repeatability',
      sd_ohms: figure(repeatability.sdOhms),
      df: degrees(repeatability.df),
      lower_ohms: figure(repeatabilityInterval.lowerOhms),
      upper_ohms: figure(repeatabilityInterval.upperOhms),
    },
    ...level('session to session', dayToDay),
    ...level('run to run', runToRun),
    {
      row: 'level',
      item: 'one reading',
      sd_ohms: figure(oneReading.sdOhms),
      df: degrees(oneReading.df),
      percent_of_tolerance: figure(study.percentOfTolerance),
    },
    ...(sessionsDiffer === null
      ? []
      : [
          {
            row: 'sessions',
            item: 'F test',
            f: figure(sessionsDiffer.f),
            p: probability(sessionsDiffer.p),
          } satisfies StudyRow,
        ]),
    ...(bias === null ? [] : biasRows(bias, of)),
  ];
}

function biasRows(bias: NonNullable<SingleStudy['bias']>, { readings }: StudyReadings): StudyRow[] {
  // With all its digits: a bias is far smaller than what it is the bias of. In a balanced study it is the mean of means too.
  const mean = statisticsOf(readings.map(({ ohms }) => ohms));
  return [
    { row: 'bias', item: 'mean', ohms: mean?.mean ?? '' },
    {
      row: 'bias',
      item: 'bias',
      ohms: figure(bias.biasOhms),
      lower_ohms: figure(bias.interval?.lowerOhms ?? null),
      upper_ohms: figure(bias.interval?.upperOhms ?? null),
      sd_ohms: figure(bias.uncertaintyOhms),
      df: degrees(bias.df),
      t: figure(bias.t),
      p: probability(bias.p),
      percent_of_tolerance: figure(bias.percentOfTolerance),
    },
  ];
}
