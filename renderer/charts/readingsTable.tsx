import { positionsAreKnown } from '../../core/inspection/positionTaken.ts';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { standingOf, VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { formatCount } from '../words/count.ts';
import { readingText } from '../words/ohms.ts';
import { takenText } from '../words/position.ts';
import { formatTime } from '../words/time.ts';
import { PagedTable } from './pagedTable.tsx';

/** All readings, the last first; where the pieces were taken along the reel, where that is known. */
export function ReadingsTable({ run }: { run: Run }) {
  const { readings } = run;
  const position = positionsAreKnown(run) ? ['Position'] : [];
  return (
    <PagedTable
      columns={['Reading', 'Piece', ...position, 'Value', 'Verdict', 'Taken']}
      count={readings.size}
      row={(index) => <ReadingRow reading={readings.get(readings.size - 1 - index) as Reading} run={run} />}
    />
  );
}

function ReadingRow({ reading, run }: { reading: Reading; run: Run }) {
  const standing = standingOf(reading);
  return (
    <tr>
      <th scope="row">{formatCount(reading.reading)}</th>
      <td>{formatCount(reading.piece)}</td>
      {reading.position !== null && <td>{takenText(run, reading)}</td>}
      <td className="figures">{readingText(reading, run.window)}</td>
      <td>
        {reading.voided ? (
          <span className="quiet">
            voided by {reading.voided.by}: {reading.voided.reason}
          </span>
        ) : (
          <>
            <VerdictMark verdict={standing} /> {VERDICT_WORDS[standing]}
            {reading.suspect && <span className="quiet">, read as {VERDICT_WORDS[reading.verdict].toLowerCase()}</span>}
          </>
        )}
      </td>
      <td className="quiet">{formatTime(reading.at)}</td>
    </tr>
  );
}
