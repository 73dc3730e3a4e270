import type { Run } from '../../core/inspection/run.ts';
import { type BenchScenarioInput, scenarioForPart } from '../../instruments/bench/scenario.ts';
import { readAddress } from '../../instruments/transport/address.ts';

/**
 * What lies on the simulated bench when a run is practised on it: a reel that fits the part, shaped as the address says
 * (`sim:7?reel=drifting`). The seed is the one in the address, else the run's number, so that each run meets other pieces.
 */
export function benchFor(number: number, run: Run, address: string): BenchScenarioInput {
  const { nominal, lower, upper } = run.window;
  const wanted = readAddress(address);
  const sim = wanted.kind === 'sim' ? wanted : null;
  return scenarioForPart({
    seed: sim?.seed ?? number,
    ...(sim && { reel: sim.reel }),
    nominalOhms: nominal === null ? null : Number(nominal),
    lowerOhms: lower === null ? null : Number(lower),
    upperOhms: upper === null ? null : Number(upper),
  });
}
