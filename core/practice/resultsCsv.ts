import { safeText } from '../certificate/safeText.ts';
import { MARKS, type MarkName } from './exercise.ts';
import { type PracticeResult, totalOf } from './practisedRun.ts';

const NAMES = Object.keys(MARKS) as MarkName[];
/** A mark as a column: `cause named` is `cause_named`. */
const columnOf = (mark: string) => mark.replaceAll(' ', '_');

/** Columns of the results of a class. Points are empty before the debrief. `exercise_sha256` says which version of an exercise it was. */
export const RESULT_COLUMNS: readonly string[] = [
  ...['trainee', 'exercise', 'exercise_sha256', 'run', 'begun_at', 'decided_at', 'readings', 'disposition'],
  ...['cause_named_was', 'which'],
  ...NAMES.flatMap((mark) => [columnOf(mark), `${columnOf(mark)}_of`]),
  ...['points', 'points_of'],
];

/** The cells of a result in the order of `RESULT_COLUMNS`. Texts of people are made safe for spreadsheets. */
export function resultCells(result: PracticeResult): string[] {
  const total = totalOf(result);
  const of = (mark: string) => result.marks?.find((one) => one.mark === mark);
  return [
    safeText(result.trainee),
    result.exercise,
    result.digest,
    String(result.run),
    result.begunAt,
    result.decidedAt ?? '',
    String(result.readings),
    result.disposition ?? '',
    result.named ?? '',
    result.which === null ? '' : String(result.which),
    ...NAMES.flatMap((mark) => [String(of(mark)?.points ?? ''), String(of(mark)?.of ?? '')]),
    ...(total ? [String(total.points), String(total.of)] : ['', '']),
  ];
}
