import type { CrossedStudy, VarianceRow } from '../../core/study/crossed.ts';
import type { Level, SingleStudy } from '../../core/study/single.ts';
import type { Study } from '../../core/study/study.ts';
import { shown, shownP, sizeWords } from '../../core/study/words.ts';
import { tableLines } from './table.ts';

const SOURCE_WORDS: Record<CrossedStudy['components'][number]['source'], string> = {
  gauge: 'gauge (repeatability and reproducibility)',
  repeatability: '  repeatability',
  reproducibility: '  reproducibility',
  operator: '    operator',
  interaction: '    interaction',
  piece: 'pieces',
  total: 'all',
};

/** More than any meter gives. */
const MEAN_DIGITS = 10;

/** What a study says, in lines of plain text. */
export function studyLines(study: Study): string[] {
  return [
    ...(study.design === 'crossed' ? crossedLines(study) : singleLines(study)),
    ...study.conclusions.map(({ text }) => `- ${text}.`),
    ...(study.notes.length === 0 ? [] : ['What limits these figures:', ...study.notes.map((note) => `- ${note}.`)]),
  ];
}

function crossedLines(study: CrossedStudy): string[] {
  const { pieces, operators, repeats, table, pooledTable, components, gaugeInterval } = study;
  return [
    `Crossed study: ${sizeWords({ pieces: pieces.length, operators: operators.length, repeats })}.`,
    ...varianceLines('Analysis of variance (two-way, both at random)', table),
    ...(pooledTable === null
      ? []
      : varianceLines('The same with the interaction counted to repeatability', pooledTable)),
    'Components of variance:',
    ...tableLines([
      ['source', 's / Ω', '% of variance', '% of study variation', '% of tolerance'],
      ...components.map((each) => [
        SOURCE_WORDS[each.source],
        shown(each.sdOhms),
        shown(each.percentOfVariance),
        shown(each.percentOfStudyVariation),
        orDash(each.percentOfTolerance),
      ]),
    ]),
    `s of the gauge, 95 % interval: ${intervalWords(gaugeInterval)}`,
    `Distinct categories: ${study.distinctCategories} (${shown(study.categoriesExact)} before it is cut to a whole number)`,
  ];
}

function varianceLines(title: string, rows: readonly VarianceRow[]): string[] {
  return [
    `${title}:`,
    ...tableLines([
      ['source', 'df', 'sum of squares / Ω²', 'mean square / Ω²', 'F', 'p'],
      ...rows.map(({ source, df, sumOfSquares, meanSquare, f, p }) => [
        source,
        String(df),
        shown(sumOfSquares),
        orDash(meanSquare),
        orDash(f),
        p === null ? '-' : shownP(p).replace(/^p (= )?/, ''),
      ]),
    ]),
  ];
}

function singleLines(study: SingleStudy): string[] {
  const { pieces, runs, sessions, repeats, repeatability, dayToDay, runToRun, oneReading, sessionsDiffer, bias } =
    study;
  const levels: [string, Level | null][] = [
    ['repeatability', repeatability],
    ['session to session', dayToDay],
    ['run to run', runToRun],
    ['one reading on any day', oneReading],
  ];
  return [
    `Single-operator study: ${sizeWords({ pieces: pieces.length, runs, sessions, repeats })}.`,
    ...tableLines([
      ['level', 's / Ω', 'degrees of freedom'],
      ...levels.flatMap(([name, level]) => (level === null ? [] : [[name, shown(level.sdOhms), shown(level.df)]])),
    ]),
    `s of repeats, 95 % interval: ${intervalWords(study.repeatabilityInterval)}`,
    ...(sessionsDiffer === null
      ? []
      : [`Sessions against repeats: F = ${shown(sessionsDiffer.f)}, ${shownP(sessionsDiffer.p)}`]),
    ...(study.percentOfTolerance === null ? [] : [`Share of tolerance: ${shown(study.percentOfTolerance)} %`]),
    ...(bias === null
      ? []
      : [
          `Mean ${Number(bias.meanOhms.toPrecision(MEAN_DIGITS))} Ω, reference ${bias.referenceOhms} Ω, bias ${shown(bias.biasOhms)} Ω`,
        ]),
  ];
}

function intervalWords({ lowerOhms, upperOhms }: { lowerOhms: number; upperOhms: number | null }): string {
  return `${shown(lowerOhms)} to ${upperOhms === null ? '-' : shown(upperOhms)} Ω`;
}

function orDash(value: number | null): string {
  return value === null ? '-' : shown(value);
}
