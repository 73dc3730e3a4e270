import { problem } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { windowOf } from '../../core/window/window.ts';
import { REEL_NAMES } from '../../instruments/bench/reels.ts';
import { MANNER_NAMES, scenarioForPart } from '../../instruments/bench/scenario.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { exitStatus } from './exitStatus.ts';
import { untilStopped } from './untilStopped.ts';
import { wholeNumber } from './wholeNumber.ts';

export interface BenchOptions {
  port: string;
  host: string;
  seed: string;
  nominal: string;
  tolerance: string;
  manner: string;
  reel: string;
  pace: boolean;
}

/** Serves the simulated bench as a SCPI instrument on TCP until it is stopped. */
export async function serveBenchCommand(options: BenchOptions): Promise<number> {
  const stopped = untilStopped();
  const window = windowOf(parseOhms(options.nominal), parseTolerance(options.tolerance));
  const server = await serveBenchOnTcp({
    host: options.host,
    port: wholeNumber('--port', options.port, 0, 65_535),
    scenario: scenarioForPart({
      seed: wholeNumber('--seed', options.seed, 0, 999_999_999),
      nominalOhms: Number(window.nominal),
      lowerOhms: window.lower === null ? null : Number(window.lower),
      upperOhms: window.upper === null ? null : Number(window.upper),
      pace: options.pace ? 'real' : 'none',
      manner: oneNamed('--manner', MANNER_NAMES, options.manner),
      reel: oneNamed('--reel', REEL_NAMES, options.reel),
    }),
  });
  console.log(`The simulated bench answers at ${server.address}`);
  console.log('It speaks SCPI; BENCh:PLACe N puts the probes on piece N of the reel. Ctrl-C ends it.');
  if (options.manner !== 'plain') console.log(`It speaks as meters of the dialect "${options.manner}" do.`);
  await stopped;
  await server.close();
  return exitStatus.good;
}

function oneNamed<T extends string>(option: string, names: readonly T[], name: string): T {
  const found = names.find((known) => known === name);
  if (!found) throw problem('input-invalid', option, `"${name}" is not one of ${names.join(', ')}`);
  return found;
}
