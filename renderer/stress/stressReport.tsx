import { lazy, Suspense } from 'react';
import type { StressedPiece, StressResult } from '../../core/drift/stress.ts';
import type { Outcome } from '../../core/readiness/check.ts';
import { OutcomeMark } from '../outcome/outcomeMark.tsx';
import { Block } from '../sheet/sheet.tsx';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { formatCount } from '../words/count.ts';
import { changePercentText, columnText, digitsOf, pieceWords, standingOfPiece, worstFirst } from './worstPiece.ts';
import './stressReport.css';

const Chart = lazy(() => import('./stressChart.tsx'));

/** Rows a table may have on the screen; the file has them all. */
const MOST_ROWS = 500;

/** What a treatment did to the pieces: the sentence first, then the worst piece, what limits it, the picture, every piece. */
export function StressReport({ result }: { result: StressResult }) {
  const { words, pieces, notes, change, limitText } = result;
  return (
    <div className="stress-report">
      <Block
        title="What it comes to"
        source={`Limit ${limitText} of each piece’s own first value, in the form of IEC 60115-1; the limit itself is allowed. Near a limit the two uncertainties count in root sum of squares (JCGM 100:2008, 5.1).`}
      >
        <p className="stress-says">
          <OutcomeMark {...outcomeOf(result)} /> <span>{words}</span>
        </p>
        {change && (
          <p className="quiet">
            ΔR/R from {changePercentText(change.lowestPercent)} to {changePercentText(change.highestPercent)}, mean{' '}
            {changePercentText(change.meanPercent)}.
          </p>
        )}
        {notes.length > 0 && (
          <ul className="block-notes">
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        )}
      </Block>
      <Block title="ΔR/R of each piece against its limit">
        <Suspense fallback={<div className="stress-chart" aria-busy="true" />}>
          <Chart pieces={pieces} />
        </Suspense>
      </Block>
      <Block title="Every piece">
        {pieces.length > MOST_ROWS && (
          <p>
            The {formatCount(MOST_ROWS)} that used up most of their limit, of {formatCount(pieces.length)}. The file has
            them all.
          </p>
        )}
        <PiecesTable pieces={pieces.length > MOST_ROWS ? worstFirst(pieces).slice(0, MOST_ROWS) : pieces} />
      </Block>
    </div>
  );
}

function outcomeOf({ holds }: StressResult): { outcome: Outcome; words: string } {
  if (holds === null) return { outcome: 'waived', words: 'Not shown' };
  return holds ? { outcome: 'passed', words: 'Holds' } : { outcome: 'failed', words: 'Does not hold' };
}

function PiecesTable({ pieces }: { pieces: readonly StressedPiece[] }) {
  const digits = digitsOf(pieces);
  return (
    <table className="stress-table">
      <thead>
        <tr>
          <th scope="col">Piece</th>
          <th scope="col" className="figures">
            First value
          </th>
          <th scope="col" className="figures">
            Second value
          </th>
          <th scope="col" className="figures">
            ΔR
          </th>
          <th scope="col" className="figures">
            ΔR/R
          </th>
          <th scope="col" className="figures">
            Limit
          </th>
          <th scope="col">Verdict</th>
        </tr>
      </thead>
      <tbody>
        {pieces.map((piece) => (
          <tr key={piece.piece}>
            <th scope="row">{piece.piece}</th>
            <td className="figures">{columnText(piece.beforeOhms, piece.beforeOhms, digits.value)}</td>
            <td className="figures">
              {piece.afterOhms === null ? 'open' : columnText(piece.afterOhms, piece.beforeOhms, digits.value)}
            </td>
            <td className="figures">
              {piece.changeOhms === null ? '' : columnText(piece.changeOhms, piece.limitOhms, digits.change, true)}
            </td>
            <td className="figures">{piece.changePercent === null ? '' : changePercentText(piece.changePercent)}</td>
            <td className="figures">±{columnText(piece.limitOhms, piece.limitOhms, digits.limit)}</td>
            <td className="stress-verdict">
              <VerdictMark verdict={standingOfPiece(piece)} /> {pieceWords(piece)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
