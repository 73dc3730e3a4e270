import { createContext, type ReactNode, useCallback, useContext, useEffect, useReducer, useState } from 'react';
import type {
  Continuity,
  ContinuityLink,
  Entry,
  Live,
  MeterLink,
  News,
  Stepping,
} from '../../core/contract/contract.ts';
import { type OpenedRun, type Opening, openRun } from '../../core/contract/openRun.ts';
import type { Run } from '../../core/inspection/run.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { Feed } from './feed.ts';
import { type HeldRun, holdOne, holdOpened, NOTHING_HELD } from './heldRun.ts';
import type { StationLine } from './stationLine.ts';

interface Station {
  line: StationLine;
  /** Whether the line to the station holds; null before it first did. */
  up: boolean | null;
  link: MeterLink;
  /** Whether the station has said yet how its meter stands; until then `link` is only a guess. */
  linkKnown: boolean;
  /** How the probes stand while readings are captured. */
  live: Feed<Live>;
  /** Whether the probes close a circuit, while that is watched. */
  continuity: Feed<Continuity>;
  /** The meter of continuity runs, and how the probes stand while a list is gone through hands-free. */
  wiringLink: ContinuityLink;
  stepping: Feed<Stepping>;
  /** Fingerprint of the key that the station signs by; null before it has said so. */
  keyFingerprint: string | null;
}

const NO_METER = { state: 'none' } as const;

const StationContext = createContext<Station | null>(null);

/** Gives the station to all screens below. */
export function StationProvider(props: { line: StationLine; children: ReactNode }) {
  const { line } = props;
  const [up, setUp] = useState<boolean | null>(null);
  const [link, setLink] = useState<MeterLink | null>(null);
  const [live] = useState(() => new Feed<Live>());
  const [continuity] = useState(() => new Feed<Continuity>());
  const [wiringLink, setWiringLink] = useState<ContinuityLink>(NO_METER);
  const [stepping] = useState(() => new Feed<Stepping>());
  const [keyFingerprint, setKeyFingerprint] = useState<string | null>(null);

  useEffect(() => line.watch((now) => setUp((before) => (before === null && !now ? null : now))), [line]);
  useEffect(
    () =>
      line.listen((news: News) => {
        if (news.kind === 'link') setLink(news.link);
        if (news.kind === 'live') live.tell(news.live);
        if (news.kind === 'continuity') continuity.tell(news);
        if (news.kind === 'continuity-link') setWiringLink(news.link);
        if (news.kind === 'stepping') stepping.tell(news.stepping);
      }),
    [line, live, continuity, stepping],
  );
  useEffect(() => {
    if (!up) {
      live.tell(null);
      continuity.tell(null);
      stepping.tell(null);
      return;
    }
    line.ask('overview', {}).then((overview) => {
      live.tell(overview.live);
      continuity.tell(overview.continuity);
      setWiringLink(overview.wiring.link);
      stepping.tell(overview.wiring.stepping);
      setLink(overview.link);
      setKeyFingerprint(overview.keyFingerprint);
    }, ignoreDrop);
  }, [line, up, live, continuity, stepping]);

  return (
    <StationContext
      value={{
        line,
        up,
        link: link ?? NO_METER,
        linkKnown: link !== null,
        live,
        continuity,
        wiringLink,
        stepping,
        keyFingerprint,
      }}
    >
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

type Held = HeldRun & { problem: Problem | null; opening: Opening | null };
type Change =
  | { opened: OpenedRun }
  | { opening: Opening }
  | { one: Entry }
  | { problem: Problem }
  | { lineDown: true }
  | { otherRun: true };

const NOTHING_OPENED: Held = { ...NOTHING_HELD, problem: null, opening: null };

function change(held: Held, by: Change): Held {
  if ('opened' in by) return { ...holdOpened(held, by.opened), problem: null, opening: null };
  if ('opening' in by) return { ...held, opening: by.opening };
  if ('one' in by) return { ...held, ...holdOne(held, by.one) };
  if ('problem' in by) return { ...held, problem: by.problem };
  if ('lineDown' in by) return { ...held, behind: true };
  return NOTHING_OPENED;
}

/** A run as a screen has it. */
export interface RunHere {
  run: Run | null;
  problem: Problem | null;
  /** How far a large run is read; null before the first page, and when the run is there. */
  opening: Opening | null;
  /** Takes up an entry that came as an answer. */
  hold: (entry: Entry) => void;
}

/**
 * A run of the station, kept as its entries make it: opened once, then each entry as it is told. When the line was down the run
 * is opened again, so nothing is lost and nothing counts twice.
 */
export function useRun(number: number): RunHere {
  const { line, up } = useStation();
  const [held, dispatch] = useReducer(change, NOTHING_OPENED);

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
    const work = `open run ${number} ${Math.random().toString(36).slice(2)}`;
    const tell = (opening: Opening) => {
      if (!current) throw NO_LONGER_WANTED;
      dispatch({ opening });
    };
    // Before its first page comes the station may have to read the record.
    const stopHearing = line.listen((news) => {
      if (news.kind !== 'work' || news.work !== work || !news.progress) return;
      dispatch({ opening: { read: news.progress.done, of: news.progress.of, entries: true } });
    });
    let isOpening = true;
    const done = () => {
      isOpening = false;
      stopHearing();
    };
    openRun(line, number, tell, work)
      .finally(done)
      .then(
        (opened) => {
          if (current) dispatch({ opened });
        },
        (thrown) => {
          if (current && asProblem(thrown).code !== 'station-away') dispatch({ problem: asProblem(thrown) });
        },
      );
    return () => {
      current = false;
      stopHearing();
      if (isOpening) line.ask('stop-work', { work }).catch(ignoreDrop);
    };
  }, [line, up, number]);

  const hold = useCallback((entry: Entry) => dispatch({ one: entry }), []);
  return { run: held.run, problem: held.problem, opening: held.opening, hold };
}

/** Ends the reading of a run whose screen was left. */
const NO_LONGER_WANTED = new Error('the screen was left');
