import { onTestFinished } from 'vitest';
import type { Run } from '../core/inspection/run.ts';
import { serveBenchOnTcp } from '../instruments/bench/serve.ts';
import { benchFor } from '../main/station/benchFor.ts';

/**
 * A simulated bench that takes no time for its readings, until the test is over: where how long they take is not what matters.
 * @param address what lies on it, like `sim:3?reel=drifting`
 * @returns the address it is served at
 */
export async function quickBench(run: Run, address: string): Promise<string> {
  const { meter, ...scenario } = benchFor(0, run, address);
  const server = await serveBenchOnTcp({
    host: '127.0.0.1',
    port: 0,
    scenario: { ...scenario, meter: { ...meter, pace: 'none' } },
  });
  onTestFinished(() => server.close());
  return server.address;
}
