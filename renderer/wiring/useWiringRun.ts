import { useEffect, useState } from 'react';
import { applyContinuity } from '../../core/continuity/apply.ts';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import type { ContinuityEntry } from '../../core/contract/contract.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from '../station/station.tsx';

interface Held {
  run: ContinuityRun | null;
  /** Place in the record of the last entry that is folded in. */
  position: number;
}

const NOTHING: Held = { run: null, position: 0 };

/** A run with further entries; those it has already count once. */
function withEntries(held: Held, entries: readonly ContinuityEntry[]): Held {
  let { run, position } = held;
  for (const entry of entries) {
    if (entry.position <= position) continue;
    run = applyContinuity(run, entry.event);
    ({ position } = entry);
  }
  return { run, position };
}

/**
 * A continuity run of the station, kept as its entries make it: opened once, then each entry as it is told. When the line was down the
 * run is opened again, so nothing is lost and nothing counts twice.
 */
export function useWiringRun(number: number): { run: ContinuityRun | null; problem: Problem | null } {
  const { line, up } = useStation();
  const [held, setHeld] = useState<Held>(NOTHING);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    if (!up) return;
    let current = true;
    /** What is told before the run is there. */
    let early: ContinuityEntry[] | null = [];
    const stop = line.listen((news) => {
      if (news.kind !== 'continuity-entry' || news.entry.run !== number) return;
      if (early) early.push(news.entry);
      else setHeld((before) => withEntries(before, [news.entry]));
    });
    line.ask('open-continuity', { run: number }).then(
      ({ entries }) => {
        if (!current) return;
        const told = early ?? [];
        early = null;
        setHeld(withEntries(NOTHING, [...entries, ...told]));
      },
      (thrown) => {
        if (current && asProblem(thrown).code !== 'station-away') setProblem(asProblem(thrown));
      },
    );
    return () => {
      current = false;
      stop();
    };
  }, [line, up, number]);
  return { run: held.run, problem };
}
