import { onTestFinished } from 'vitest';
import type { Live, News, Question } from '../../../core/contract/contract.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { counts, type Run } from '../../../core/inspection/run.ts';
import type { Bench } from '../../../instruments/bench/bench.ts';
import { trueOhms } from '../../../instruments/bench/lot.ts';
import type { BenchScenarioInput } from '../../../instruments/bench/scenario.ts';
import { serveBenchOnTcp } from '../../../instruments/bench/serve.ts';
import { ohmsWhileRead } from '../../../instruments/bench/temperature.ts';
import type { Station } from '../../../main/station/station.ts';
import { exampleLot } from '../../exampleLot.ts';
import { openedStation } from '../../openedStation.ts';
import { readyBench, runOf } from '../../readyBench.ts';

/** A lot that is measured quickly: 1 cycle, and so many pieces whatever they are. */
export function quickLot(sampleSize: number, more: Partial<LotClaimInput> = {}): LotClaimInput {
  return {
    ...exampleLot({ sampleSize, accept: Math.floor(sampleSize * 0.9) }),
    measurement: { method: '2-wire', range: 'window', integrationCycles: 1 },
    checks: { everyReadings: 1000, everyMinutes: 240 },
    ...more,
  };
}

export type HeardLive = Live & { at: number };

/** Hears all live news of a station, with the time of a clock. */
export function hearing(station: Station, clock: () => number) {
  const heard: HeardLive[] = [];
  const waiting: { wanted: (live: Live) => boolean; resolve: (live: Live) => void }[] = [];
  station.listen((news: News) => {
    if (news.kind !== 'live') return;
    heard.push({ ...news.live, at: clock() });
    for (const each of waiting.filter(({ wanted }) => wanted(news.live))) {
      waiting.splice(waiting.indexOf(each), 1);
      each.resolve(news.live);
    }
  });
  /** The next news of this kind. */
  const next = (wanted: (live: Live) => boolean) => new Promise<Live>((resolve) => waiting.push({ wanted, resolve }));
  return {
    heard,
    next,
    off: () => next(({ phase }) => phase === 'off'),
    outcome: (name: Live['outcome']) => next((live) => live.outcome === name),
  };
}

/**
 * A station with a run that is ready, at a simulated bench whose time passes only while the meter measures; hands-free capture
 * follows that time.
 */
export async function atQuickBench(scenario: BenchScenarioInput = {}, claim: LotClaimInput = quickLot(20)) {
  const server = await serveBenchOnTcp({
    host: '127.0.0.1',
    port: 0,
    scenario: { seed: 7, hands: { piecesPerSecond: 2 }, meter: { pace: 'none' }, ...scenario },
  });
  onTestFinished(() => server.close().catch(() => undefined));
  const clock = () => server.bench.clock.now();
  const station = openedStation(undefined, undefined, clock);
  const { run } = await station.ask('receive-lot', { claim });
  await readyBench(station, run, server.address);
  const ask = (more: Partial<Question<'start-capture'>> = {}) => station.ask('start-capture', { run, ...more });
  return { server, bench: server.bench, clock, station, run, start: ask, ...hearing(station, clock) };
}

/** Readings that count whose value is not that of the piece they are said to be of, in words; and pieces missed or doubled. */
export function wrongOnes(run: Run, { scenario, conditions }: Bench): string[] {
  const wrong: string[] = [];
  const seen = new Map<number, number>();
  for (const reading of run.readings.slice().filter(counts)) {
    seen.set(reading.piece, (seen.get(reading.piece) ?? 0) + 1);
    const place = reading.position ?? reading.piece;
    const lying = trueOhms(scenario, place);
    const ohms = lying === null ? null : ohmsWhileRead(scenario, place, lying, conditions.ambientCelsius, 1e4);
    // A meter's overload is 9.9E37; above the range the reading stands on another, with its noise.
    const found = /^\+?9\.9/.test(reading.raw) ? null : Number(reading.raw) - Number(reading.zeroOhms);
    const most = ohms === null ? 0 : 0.12 + ohms * 2e-5;
    const right = ohms === null || found === null ? ohms === found : Math.abs(found - ohms) <= most;
    if (!right) wrong.push(`piece ${reading.piece} at ${place}: ${reading.raw} for ${ohms}`);
  }
  for (let piece = 1; piece <= run.tally.counted; piece++) {
    if (seen.get(piece) !== 1) wrong.push(`piece ${piece} counts ${seen.get(piece) ?? 0} times`);
  }
  return wrong;
}

export { runOf };
