import { useMemo, useState } from 'react';
import { type ContinuityRun, readingOf } from '../../core/continuity/continuityRun.ts';
import { FOUND_WORDS, REASON_WORDS, readWords, VERDICT_WORDS } from '../../core/continuity/continuityWords.ts';
import { NET_STATE_WORDS, netResults, swappedWords } from '../../core/continuity/netSummary.ts';
import type { Point } from '../../core/continuity/point.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { TickField } from '../controls/field.tsx';
import { Block } from '../sheet/sheet.tsx';
import { formatCount } from '../words/count.ts';
import { MatrixTable } from './matrixTable.tsx';
import { PointMark } from './pointMark.tsx';

const MOST_ROWS = 300;

/** All that was found so far: nets, the matrix of terminals, point by point. */
export function WiringResults({ run }: { number: number; run: ContinuityRun }) {
  const nets = useMemo(() => netResults(run), [run]);
  const swapped = useMemo(() => swappedWords(run), [run]);
  const [onlyOdd, setOnlyOdd] = useState(false);
  const isOdd = ({ point }: Point) => {
    const verdict = readingOf(run, point)?.verdict;
    return verdict === 'not-as-expected' || verdict === 'cannot-tell' || run.skipped.has(point);
  };
  const points = onlyOdd ? run.points.filter(isOdd) : run.points;
  return (
    <>
      <Block title="Nets" wide>
        {swapped.length > 0 && (
          <ul className="wiring-swapped">
            {swapped.map((words) => (
              <li key={words}>
                <strong>{words}.</strong>
              </li>
            ))}
          </ul>
        )}
        <table>
          <thead>
            <tr>
              <th scope="col">Net</th>
              <th scope="col">Terminals</th>
              <th scope="col">Found</th>
            </tr>
          </thead>
          <tbody>
            {nets.slice(0, MOST_ROWS).map(({ net, terminals, state, words }) => (
              <tr key={net}>
                <th scope="row" className="figures">
                  {net}
                </th>
                <td>{terminals.join(', ')}</td>
                <td className={`wiring-net-${state}`}>
                  {state === 'good' ? capital(NET_STATE_WORDS.good) : capital(words)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {nets.length > MOST_ROWS && <MoreRows shown={MOST_ROWS} of={nets.length} />}
      </Block>
      <MatrixTable run={run} />
      <Block title="Points" wide>
        <TickField checked={onlyOdd} onChange={setOnlyOdd}>
          Only what is not as expected, cannot be told or was skipped
        </TickField>
        {points.length === 0 ? (
          <p>None.</p>
        ) : (
          <table>
            <thead>
              <tr>
                <th scope="col">Point</th>
                <th scope="col">From</th>
                <th scope="col">To</th>
                <th scope="col">Expected</th>
                <th scope="col">State</th>
                <th scope="col">Read</th>
                <th scope="col">Found</th>
                <th scope="col">Verdict</th>
              </tr>
            </thead>
            <tbody>
              {points.slice(0, MOST_ROWS).map((point) => (
                <PointRow key={point.point} run={run} point={point} />
              ))}
            </tbody>
          </table>
        )}
        {points.length > MOST_ROWS && <MoreRows shown={MOST_ROWS} of={points.length} />}
      </Block>
    </>
  );
}

function MoreRows({ shown, of }: { shown: number; of: number }) {
  return (
    <p className="quiet">
      The first {formatCount(shown)} of {formatCount(of)}; the certificate has all of them.
    </p>
  );
}

function PointRow({ run, point }: { run: ContinuityRun; point: Point }) {
  const reading = readingOf(run, point.point);
  const skipped = run.skipped.get(point.point);
  return (
    <tr>
      <th scope="row" className="figures">
        {point.point}
      </th>
      <td>{point.from}</td>
      <td>{point.to}</td>
      <td>{point.expected}</td>
      <td>{point.state}</td>
      <td className="figures">{reading ? readWords(reading) : ''}</td>
      <td>{reading ? FOUND_WORDS[reading.found] : ''}</td>
      <td>
        {reading ? (
          <>
            <PointMark verdict={reading.verdict} /> {VERDICT_WORDS[reading.verdict]}
            {reading.reason !== null && `: ${REASON_WORDS[reading.reason]}`}
          </>
        ) : skipped ? (
          `skipped: ${skipped.reason}`
        ) : (
          <span className="quiet">not measured</span>
        )}
      </td>
    </tr>
  );
}
