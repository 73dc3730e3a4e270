import { useEffect, useRef } from 'react';
import type { HistoryRow } from '../../core/contract/contract.ts';
import { hashOf } from '../route.ts';
import { formatCount } from '../words/count.ts';
import { formatTime } from '../words/time.ts';
import { DispositionMark } from './dispositionMark.tsx';

/** The run that was opened from here last: who comes back is where they left. */
let openedLast: number | null = null;

/** Runs one below the other; arrow keys go from one to the next, Enter opens it. */
export function HistoryTable({ rows, busy }: { rows: readonly HistoryRow[]; busy: boolean }) {
  const body = useRef<HTMLTableSectionElement>(null);
  useArrows(body);
  useEffect(() => {
    const link = openedLast === null ? null : body.current?.querySelector<HTMLElement>(`[data-run="${openedLast}"]`);
    openedLast = null;
    link?.focus();
  }, []);
  return (
    <table className="history-table" aria-label="Runs that were found" aria-busy={busy}>
      <thead>
        <tr>
          <th scope="col">Lot</th>
          <th scope="col">Part</th>
          <th scope="col">Received</th>
          <th scope="col">Measured</th>
          <th scope="col">Severity</th>
          <th scope="col">Disposition</th>
        </tr>
      </thead>
      <tbody ref={body}>
        {rows.map((row) => (
          <Row key={row.run} row={row} />
        ))}
      </tbody>
    </table>
  );
}

function Row({ row }: { row: HistoryRow }) {
  const { run, lot, part, supplier, receivedAt, inspector, counted, sampleSize, nonconforming, severity } = row;
  return (
    <tr>
      <th scope="row">
        <a
          className="history-open"
          href={hashOf({ screen: 'run', run })}
          data-run={run}
          onClick={() => {
            openedLast = run;
          }}
        >
          {lot}
        </a>
        <span className="quiet small history-line history-marks">
          {`run ${run}${row.offeredAgainAfter === null ? '' : `, offered again after run ${row.offeredAgainAfter}`}`}
          {row.simulated && <span className="history-kind hatched">practice</span>}
          {row.study && <span className="history-kind">study</span>}
        </span>
      </th>
      <td>
        {part}
        {supplier && <span className="quiet small history-line">{supplier}</span>}
      </td>
      <td>
        {formatTime(receivedAt)}
        <span className="quiet small history-line">{inspector}</span>
      </td>
      <td>
        {formatCount(counted)} of {formatCount(sampleSize)}
        {!row.study && (
          <span className={nonconforming > 0 ? 'small history-line' : 'quiet small history-line'}>
            {formatCount(nonconforming)} nonconforming
          </span>
        )}
      </td>
      <td>{severity}</td>
      <td>
        <DispositionMark row={row} />
      </td>
    </tr>
  );
}

/** Arrow keys, Home and End go along the rows, wherever the focus is but in a field. */
function useArrows(body: React.RefObject<HTMLTableSectionElement | null>): void {
  useEffect(() => {
    const down = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      const target = event.target as HTMLElement;
      if (target.closest('input[list], select, textarea, dialog, [popover], summary')) return;
      const links = [...(body.current?.querySelectorAll<HTMLElement>('.history-open') ?? [])];
      const next = nextPlace(event.key, links.indexOf(target), links.length);
      if (next === null) return;
      event.preventDefault();
      links[next]?.focus();
    };
    window.addEventListener('keydown', down);
    return () => window.removeEventListener('keydown', down);
  }, [body]);
}

/** @param at the row that has the focus; -1 where none has */
function nextPlace(key: string, at: number, count: number): number | null {
  if (count === 0) return null;
  if (key === 'ArrowDown') return Math.min(count - 1, at + 1);
  if (at < 0) return null;
  if (key === 'ArrowUp') return Math.max(0, at - 1);
  if (key === 'Home') return 0;
  return key === 'End' ? count - 1 : null;
}
