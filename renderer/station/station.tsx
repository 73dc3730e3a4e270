import { createContext, type ReactNode, useCallback, useContext, useEffect, useReducer, useState } from 'react';
import type { Answers, Entry, MeterLink, News } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { type HeldRun, holdAll, holdOne, NOTHING_HELD } from './heldRun.ts';
import type { StationLine } from './stationLine.ts';

interface Station {
  line: StationLine;
  /** Whether the line to the station holds; null before it first did. */
  up: boolean | null;
  link: MeterLink;
  /** Whether the station has said yet how its meter stands; until then `link` is only a guess. */
  linkKnown: boolean;
}

const NO_METER: MeterLink = { state: 'none' };

const StationContext = createContext<Station | null>(null);

/** Gives the station to all screens below. */
export function StationProvider(props: { line: StationLine; children: ReactNode }) {
  const { line } = props;
  const [up, setUp] = useState<boolean | null>(null);
  const [link, setLink] = useState<MeterLink | null>(null);

  useEffect(() => line.watch((now) => setUp((before) => (before === null && !now ? null : now))), [line]);
  useEffect(
    () =>
      line.listen((news: News) => {
        if (news.kind === 'link') setLink(news.link);
      }),
    [line],
  );
  useEffect(() => {
    if (up) line.ask('overview', {}).then((overview) => setLink(overview.link), ignoreDrop);
  }, [line, up]);

  return (
    <StationContext value={{ line, up, link: link ?? NO_METER, linkKnown: link !== null }}>
      {props.children}
    </StationContext>
  );
}

/** When a question fails because the line dropped, it is asked again when the line is back. */
function ignoreDrop(): void {}

/** The station this screen talks to. */
export function useStation(): Station {
  const station = useContext(StationContext);
  if (!station) throw new Error('no station above this screen');
  return station;
}

/** The station's runs and folders; looked up again whenever something happened. */
export function useOverview(): { overview: Answers['overview'] | null; problem: Problem | null } {
  const { line, up } = useStation();
  const [overview, setOverview] = useState<Answers['overview'] | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    if (!up) return;
    let current = true;
    let due: ReturnType<typeof setTimeout> | undefined;
    const look = () =>
      line.ask('overview', {}).then(
        (found) => {
          if (current) setOverview(found);
        },
        (thrown) => {
          if (current) setProblem(asProblem(thrown));
        },
      );
    look();
    const stop = line.listen((news) => {
      if (news.kind !== 'entry') return;
      // Another screen may be measuring: look a few times a second, not for each reading.
      clearTimeout(due);
      due = setTimeout(look, 300);
    });
    return () => {
      current = false;
      clearTimeout(due);
      stop();
    };
  }, [line, up]);
  return { overview, problem };
}

type Held = HeldRun & { problem: Problem | null };
type Change =
  | { all: readonly Entry[] }
  | { one: Entry }
  | { problem: Problem }
  | { lineDown: true }
  | { otherRun: true };

function change(held: Held, by: Change): Held {
  if ('all' in by) return { ...holdAll(held, by.all), problem: null };
  if ('one' in by) return { ...holdOne(held, by.one), problem: held.problem };
  if ('problem' in by) return { ...held, problem: by.problem };
  if ('lineDown' in by) return { ...held, behind: true };
  return { ...NOTHING_HELD, problem: null };
}

/**
 * A run of the station, kept as its entries make it: all entries once, then each as it is told. When the line was down
 * all entries are fetched again, so nothing is lost and nothing counts twice.
 */
export function useRun(number: number): { run: Run | null; problem: Problem | null; hold: (entry: Entry) => void } {
  const { line, up } = useStation();
  const [held, dispatch] = useReducer(change, { ...NOTHING_HELD, problem: null });

  useEffect(() => {
    dispatch({ otherRun: true });
    return line.listen((news) => {
      if (news.kind === 'entry' && news.entry.run === number) dispatch({ one: news.entry });
    });
  }, [line, number]);

  useEffect(() => {
    if (!up) {
      dispatch({ lineDown: true });
      return;
    }
    let current = true;
    line.ask('entries-of-run', { run: number }).then(
      (entries) => {
        if (current) dispatch({ all: entries });
      },
      (thrown) => {
        if (current && asProblem(thrown).code !== 'station-away') dispatch({ problem: asProblem(thrown) });
      },
    );
    return () => {
      current = false;
    };
  }, [line, up, number]);

  const hold = useCallback((entry: Entry) => dispatch({ one: entry }), []);
  return { run: held.run, problem: held.problem, hold };
}
