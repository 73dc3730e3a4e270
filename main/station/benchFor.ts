import type { Run } from '../../core/inspection/run.ts';
import { type BenchScenarioInput, scenarioForPart } from '../../instruments/bench/scenario.ts';
import { readAddress } from '../../instruments/transport/address.ts';

/**
 * What lies on the simulated bench when a run is practised on it: a reel that fits the part. The seed is the one in
 * the address (`sim:7`), else the run's number, so that each run meets other pieces.
 */
export function benchFor(number: number, run: Run, address: string): BenchScenarioInput {
  const { nominal, lower, upper } = run.window;
  const wanted = readAddress(address);
  return scenarioForPart({
    seed: wanted.kind === 'sim' && wanted.seed !== null ? wanted.seed : number,
    nominalOhms: nominal === null ? null : Number(nominal),
    lowerOhms: lower === null ? null : Number(lower),
    upperOhms: upper === null ? null : Number(upper),
  });
}
