import { setImmediate } from 'node:timers/promises';
import { type News, OPEN_STATION, type StationClient } from '../../core/contract/contract.ts';
import { problem } from '../../core/problem/problem.ts';
import type { Progress, TellProgress } from '../../core/progress/progress.ts';
import { openingRecord, type Record } from '../record/record.ts';
import { readyingRecord } from './readyingRecord.ts';
import { openStation, type Station, type StationOptions } from './station.ts';

/** A station whose record may take a while to be checked: what is asked of it meanwhile is answered when it is open. */
export interface OpeningStation extends StationClient {
  /** @throws problem record-altered; work-stopped where it was closed before it was open */
  readonly opened: Promise<Station>;
  /** Stops the opening, or closes the station that is open. */
  close(): Promise<void>;
}

/** Told no more often: nobody looks more often. */
const BETWEEN_MILLISECONDS = 100;

/**
 * Opens a station a little at a time, so that a screen shows how far it is: news of the work `OPEN_STATION`.
 * @throws problems record-in-use, record-unusable, at once
 */
export function openingStation(options: Omit<StationOptions, 'record' | 'isReady'>): OpeningStation {
  const listeners = new Set<(news: News) => void>();
  let told = performance.now();
  let isClosed = false;

  const hearAll = (news: News): void => {
    for (const hear of listeners) hear(news);
  };
  const tell = (progress: Progress): void => {
    if (performance.now() - told < BETWEEN_MILLISECONDS) return;
    told = performance.now();
    hearAll({ kind: 'work', work: OPEN_STATION, progress });
  };

  const steps = stepsOf(options.folders.data, tell);
  // The lock, and whether it is a record at all: thrown here and now.
  const first = steps.next();

  async function open(): Promise<Station> {
    // Whoever opens it comes to listening first.
    await setImmediate();
    try {
      for (let step = first; ; step = steps.next()) {
        if (step.done) return openStation({ ...options, record: step.value, isReady: true });
        await setImmediate();
        if (isClosed) throw problem('work-stopped');
      }
    } catch (thrown) {
      steps.return(undefined as never);
      throw thrown;
    } finally {
      hearAll({ kind: 'work', work: OPEN_STATION, progress: null, stopped: isClosed });
    }
  }

  const opened = open();
  opened.then(
    (station) => station.listen(hearAll),
    () => undefined,
  );
  return {
    opened,
    ask: async (name, question) => (await opened).ask(name, question),
    listen(hear) {
      listeners.add(hear);
      return () => listeners.delete(hear);
    },
    async close() {
      isClosed = true;
      const station = await opened.catch(() => null);
      await station?.close();
    },
  };
}

/** Opens a record and makes it ready. Ended before its end, or by a problem, it lets the record go. */
function* stepsOf(folder: string, tell: TellProgress): Generator<undefined, Record> {
  const record = yield* openingRecord(folder, tell);
  let isReady = false;
  try {
    yield undefined;
    yield* readyingRecord(record, tell);
    isReady = true;
    return record;
  } finally {
    if (!isReady) record.close();
  }
}
