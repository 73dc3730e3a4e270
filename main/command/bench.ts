import { problem, wordsOf } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { windowOf } from '../../core/window/window.ts';
import { REEL_NAMES } from '../../instruments/bench/reels.ts';
import { type BenchScenarioInput, MANNER_NAMES, scenarioForPart } from '../../instruments/bench/scenario.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { openBenchTerminal } from './benchTerminal.ts';
import { exitStatus } from './exitStatus.ts';
import { fileText } from './fileText.ts';
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
  /** A file that says all that is on the bench, in place of the options that say some of it. */
  scenario?: string;
  /** Where a pseudo-terminal is to be found that leads to the bench, which then answers there alone. */
  terminal?: string;
}

/** Serves the simulated bench as a SCPI instrument on TCP, or on a pseudo-terminal, until it is stopped. */
export async function serveBenchCommand(options: BenchOptions): Promise<number> {
  const stopped = untilStopped();
  const server = await serveBenchOnTcp({
    host: options.host,
    port: wholeNumber('--port', options.port, 0, 65_535),
    scenario: options.scenario === undefined ? scenarioOf(options) : await scenarioIn(options.scenario),
  });
  let endTerminal = () => {};
  try {
    if (options.terminal !== undefined) {
      endTerminal = await openBenchTerminal(options.terminal, options.host, server.port);
    }
    console.log(`The simulated bench answers at ${options.terminal ?? server.address}`);
    await served(options, stopped);
  } finally {
    endTerminal();
    await server.close();
  }
  return exitStatus.good;
}

async function served(options: BenchOptions, stopped: Promise<void>): Promise<void> {
  console.log('It speaks SCPI; BENCh:PLACe N puts the probes on piece N of the reel. Ctrl-C ends it.');
  if (options.manner !== 'plain') console.log(`It speaks as meters of the dialect "${options.manner}" do.`);
  await stopped;
}

function scenarioOf(options: BenchOptions): BenchScenarioInput {
  const window = windowOf(parseOhms(options.nominal), parseTolerance(options.tolerance));
  return scenarioForPart({
    seed: wholeNumber('--seed', options.seed, 0, 999_999_999),
    nominalOhms: Number(window.nominal),
    lowerOhms: window.lower === null ? null : Number(window.lower),
    upperOhms: window.upper === null ? null : Number(window.upper),
    pace: options.pace ? 'real' : 'none',
    manner: oneNamed('--manner', MANNER_NAMES, options.manner),
    reel: oneNamed('--reel', REEL_NAMES, options.reel),
  });
}

/** @throws problems file-unreadable, input-invalid */
async function scenarioIn(file: string): Promise<BenchScenarioInput> {
  const text = await fileText(file);
  try {
    return JSON.parse(text);
  } catch (thrown) {
    throw problem('input-invalid', file, wordsOf(thrown));
  }
}

function oneNamed<T extends string>(option: string, names: readonly T[], name: string): T {
  const found = names.find((known) => known === name);
  if (!found) throw problem('input-invalid', option, `"${name}" is not one of ${names.join(', ')}`);
  return found;
}
