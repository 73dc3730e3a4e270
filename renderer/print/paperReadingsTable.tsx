import type { Column, Row } from '../../core/certificate/format.ts';
import { AT_EACH_END, MOST_BETWEEN, type ReadingsOnPaper } from '../../core/certificate/paperReadings.ts';
import { VERDICTS } from '../../core/window/judge.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { type Standing, VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { formatCount } from '../words/count.ts';
import { timeText } from './paperWords.ts';

interface Figure {
  column: Column;
  title: string;
  /** What it is, where it is said once above the table because all rows have the same; it always has its column without that. */
  said?: string;
  unit?: string;
}

/** Columns of figures behind the number of the reading, in the order of the file. */
const FIGURES: readonly Figure[] = [
  { column: 'piece', title: 'Piece' },
  { column: 'asked_position', title: 'Asked for', said: 'position asked for' },
  { column: 'position', title: 'Position', said: 'position' },
  { column: 'ohms', title: 'Value, Ω' },
  { column: 'zero_ohms', title: 'Zero, Ω', said: 'zero subtracted', unit: 'Ω' },
  { column: 'temperature_ohms', title: 'Temp., Ω', said: 'correction for temperature', unit: 'Ω' },
  { column: 'expanded_ohms', title: '± U, Ω', said: 'U', unit: 'Ω' },
  { column: 'coverage_factor', title: 'k', said: 'k' },
];

/** Longer tables are laid out on the screen when somebody scrolls there; about so high is each row. */
const LONG = 500;
const ROW_POINTS = 12.5;

/** The table of readings, as many as are printed, and by which rule. */
export function PaperReadingsTable({ readings, file }: { readings: ReadingsOnPaper; file: string }) {
  const { rows } = readings;
  if (rows.length === 0) return <p>No reading was taken.</p>;
  const said = FIGURES.map((figure) => ({ ...figure, same: figure.said ? sameIn(rows, figure.column) : null }));
  const shown = said.filter(({ same }) => same === null);
  const stated = said.flatMap(({ said, unit, same }) =>
    same ? [`${said} ${same}${unit ? `\u00a0${unit}` : ''}`] : [],
  );
  const notes = [...new Set(rows.flatMap(({ text }) => (text ? [text] : [])))];
  const noteOf = new Map(notes.map((text, index) => [text, index + 1]));
  return (
    <>
      <p>
        {whichWords(readings, file)} “Wrong” is how probable it is that the verdict of a reading that counts is wrong
        (JCGM 106:2012, 7.2 to 7.4).
      </p>
      {stated.length > 0 && <p>The same for every reading printed here: {stated.join('; ')}.</p>}
      {notes.map((text) => (
        <p key={text}>
          Note {noteOf.get(text)}: {text}
        </p>
      ))}
      <div
        className={rows.length > LONG ? 'paper-readings-long' : undefined}
        style={rows.length > LONG ? { containIntrinsicHeight: `auto ${ROW_POINTS * rows.length}pt` } : undefined}
      >
        <table className="paper-table paper-readings">
          <thead>
            <tr>
              <th scope="col">No.</th>
              {shown.map(({ column, title }) => (
                <th key={column} scope="col">
                  {title}
                </th>
              ))}
              <th scope="col">Verdict</th>
              <th scope="col">Wrong, %</th>
              <th scope="col">Meter’s text</th>
              <th scope="col">When</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.item}>
                <td>{row.item}</td>
                {shown.map(({ column }) => (
                  <td key={column}>{row[column]}</td>
                ))}
                <td>
                  <Verdict verdict={row.verdict ?? ''} />
                  {row.text && ` (note ${noteOf.get(row.text)})`}
                </td>
                <td>{row.wrong_percent}</td>
                <td className="machine">{row.meter_text}</td>
                <td>{row.at && timeText(row.at)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

/** What a column says in every one of these rows, also where that is nothing; null where they differ. */
function sameIn(rows: readonly Row[], column: Column): string | null {
  const first = rows[0]?.[column] ?? '';
  return rows.length > 1 && rows.every((row) => (row[column] ?? '') === first) ? first : null;
}

const STANDINGS: readonly Standing[] = [...VERDICTS, 'suspect'];

function Verdict({ verdict }: { verdict: string }) {
  const standing = STANDINGS.find((one) => one === verdict);
  if (standing === undefined) return 'Void';
  return (
    <>
      {standing !== 'pass' && <VerdictMark verdict={standing} />} {VERDICT_WORDS[standing]}
    </>
  );
}

function whichWords({ rows, of, notPassed }: ReadingsOnPaper, file: string): string {
  if (notPassed === null) return `All ${formatCount(of)} readings in the order they were taken.`;
  const between =
    notPassed <= MOST_BETWEEN
      ? `all ${formatCount(notPassed)} between them that did not simply pass`
      : `the first ${formatCount(MOST_BETWEEN)} of ${formatCount(notPassed)} between them that did not simply pass`;
  return `Printed are ${formatCount(rows.length)} of ${formatCount(of)} readings: the first ${AT_EACH_END}, the last ${AT_EACH_END}, and ${between} (outside the window, open, on condition, void or suspect). All of them are in the file ${file}; charts, counts and figures are of all.`;
}
