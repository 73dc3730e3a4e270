import { useEffect } from 'react';
import type { Opening } from '../core/contract/openRun.ts';
import { prepareCharts } from './charts/chartsLater.tsx';
import { formatCount } from './words/count.ts';

/** A run that is being opened; of a large one how far it is read. Leaving the page stops it. Its charts are fetched meanwhile. */
export function RunOpening({ number, opening }: { number: number; opening: Opening | null }) {
  useEffect(prepareCharts, []);
  return (
    <main className="lone" aria-busy="true" aria-label={`Run ${number}`}>
      {opening && (
        <>
          <h1>Run {number}</h1>
          <p>
            {opening.entries ? 'Reading the record' : 'Opening'}:{' '}
            <span className="figures">{formatCount(opening.read)}</span> of {formatCount(opening.of)}{' '}
            {opening.entries ? 'entries' : 'readings'}.
          </p>
          <progress
            max={opening.of}
            value={opening.read}
            aria-label={opening.entries ? 'Entries read' : 'Readings opened'}
          />
        </>
      )}
    </main>
  );
}
