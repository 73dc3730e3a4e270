import { setImmediate as turn } from 'node:timers/promises';
import type { CaptureChoice } from '../../../core/capture/setting.ts';
import type { Live, LiveOutcome } from '../../../core/contract/live.ts';
import type { Problem } from '../../../core/problem/problem.ts';
import type { Meter, Reading } from '../../../instruments/meter/meter.ts';
import { CaptureSession } from '../../../main/station/captureSession.ts';
import { atQuickBench, runOf } from './capturing.ts';

/** What lies between the tips from a time on, in milliseconds; null for nothing. A function is asked at each reading. */
export type Script = readonly (readonly [from: number, ohms: number | null | (() => number | null)])[];

const FIXED_MILLISECONDS = 45;
/** The fixed range of 10 kΩ ends there. */
const FIXED_END = 12_000;

/**
 * A capture session of a run of 4.7 kΩ that is ready, at a meter whose readings follow a script by a clock of their own: it ends
 * with the script.
 * @param anyMilliseconds how long a reading on any range takes
 */
export async function captureAtScript(script: Script, anyMilliseconds = 200) {
  const { station, run: number } = await atQuickBench();
  const run = await runOf(station, number);
  let now = 0;
  const read = async (milliseconds: number, most: number): Promise<Reading> => {
    await turn();
    now += milliseconds;
    const found = script.findLast(([from]) => from <= now)?.[1] ?? null;
    const ohms = typeof found === 'function' ? found() : found;
    if (ohms === null || ohms > most) return { kind: 'overload', raw: '+9.9E+37', said: '+9.9E+37' };
    return { kind: 'value', ohms: String(ohms), raw: String(ohms), said: String(ohms) };
  };
  const glance = () => read(FIXED_MILLISECONDS, FIXED_END);
  const meter: Partial<Meter> = {
    hands: null,
    hasTrigger: false,
    dialect: 'scpi',
    read: glance,
    glance,
    glanceOnAnyRange: () => read(anyMilliseconds, 1e8),
  };
  const counted: string[] = [];
  const heard: Live[] = [];
  let refusal: Problem | null = null;
  let onTold: (live: Live) => void = () => undefined;
  const session = new CaptureSession({
    runOf: () => run,
    meterOf: () => meter as Meter,
    withMeter: (_run, use) => use(),
    handOver: async () => undefined,
    mustTakeReadings: () => {
      // After its end nothing is to happen any more.
      if (now > (script.at(-1)?.[0] ?? 0)) void session.stop();
    },
    record: (_run, reading) => {
      const why = refusal;
      refusal = null;
      if (why) throw why;
      return counted.push(reading.raw);
    },
    tell: (live) => {
      heard.push(live);
      onTold(live);
    },
    clock: () => now,
  });
  return {
    session,
    counted,
    heard,
    outcomes: () => heard.flatMap(({ outcome }): LiveOutcome[] => (outcome ? [outcome] : [])),
    troubles: () => heard.flatMap(({ troubleWords }) => troubleWords ?? []),
    start: (choice: CaptureChoice = {}) => session.start(number, 'hands', choice),
    /** The next reading that would count is refused. */
    refuseNext: (why: Problem) => {
      refusal = why;
    },
    /** Calls back with each news. */
    whenTold: (hear: (live: Live) => void) => {
      onTold = hear;
    },
    /** Plays the script to its end. */
    async play(choice: CaptureChoice = {}) {
      await session.start(number, 'hands', choice);
      while (session.isOn) await turn();
    },
  };
}
