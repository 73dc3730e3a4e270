import { useEffect, useMemo, useState } from 'react';
import type { Entry } from '../../core/contract/contract.ts';
import type { AtTheBench } from '../../core/inspection/worth.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from '../station/station.tsx';
import { benchBefore } from './benchBefore.ts';

/** The bench as it was right before a reading of a run, from the run's entries; null until they are there. */
export function useBenchBefore(
  run: number,
  reading: number | null,
): { bench: AtTheBench | null; problem: Problem | null } {
  const { line, up } = useStation();
  const [entries, setEntries] = useState<readonly Entry[]>([]);
  const [problem, setProblem] = useState<Problem | null>(null);
  const bench = useMemo(() => (reading === null ? null : benchBefore(entries, reading)), [entries, reading]);
  const missing = reading !== null && bench === null;

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked again for each reading that is not there yet
  useEffect(() => {
    if (!up || !missing) return;
    let current = true;
    line.ask('entries-of-run', { run }).then(
      (found) => {
        if (!current) return;
        setProblem(null);
        setEntries(found);
      },
      (thrown) => {
        // When the line is back it is asked again.
        if (current && asProblem(thrown).code !== 'station-away') setProblem(asProblem(thrown));
      },
    );
    return () => {
      current = false;
    };
  }, [line, up, run, reading, missing]);
  return { bench, problem };
}
