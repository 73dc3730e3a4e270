import type { PracticeAct } from '../../core/practice/practiceAct.ts';
import { BENCH_ACTS } from '../../instruments/bench/benchActs.ts';
import { type BenchScenario, type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';

/**
 * What lies on the bench of an exercise that is gone on with: as its scenario says, with what has changed since by itself, and then with
 * what was done about it.
 * @param pieces how often the probes were put on a piece before; @param acts what was done, in order
 */
export function benchAsLeft(given: unknown, pieces: number, acts: readonly PracticeAct[]): BenchScenarioInput {
  const scenario = readScenario(given);
  const [before, ahead] = [
    scenario.later.filter(({ afterPieces }) => afterPieces < pieces),
    scenario.later.filter(({ afterPieces }) => afterPieces >= pieces),
  ];
  let left: BenchScenario = {
    ...scenario,
    later: ahead.map((one) => ({ ...one, afterPieces: one.afterPieces - pieces })),
  };
  for (const { afterPieces: _, ...change } of before) left = withChange(left, change);
  // A meter that drifts has drifted with each reading at least.
  const { gainErrorPpm, driftPpmPerReading } = left.meter;
  left = { ...left, meter: { ...left.meter, gainErrorPpm: gainErrorPpm + driftPpmPerReading * pieces } };
  for (const act of acts) left = done(left, act, scenario);
  return left;
}

type Change = Omit<BenchScenario['later'][number], 'afterPieces'>;

function withChange(bench: BenchScenario, change: Change): BenchScenario {
  const { meter } = bench;
  return {
    ...bench,
    leads: { ...bench.leads, state: change.leads ?? bench.leads.state },
    leadOhms: change.leadOhms ?? bench.leadOhms,
    fixtureVolts: change.fixtureVolts ?? bench.fixtureVolts,
    ambientCelsius: change.ambientCelsius ?? bench.ambientCelsius,
    meter: {
      ...meter,
      gainErrorPpm: change.gainErrorPpm ?? meter.gainErrorPpm,
      driftPpmPerReading: change.driftPpmPerReading ?? meter.driftPpmPerReading,
    },
  };
}

function done(bench: BenchScenario, act: PracticeAct, first: BenchScenario): BenchScenario {
  const { inCircuit, fingers, leads, senseOpen, fixtureVolts, gainErrorPpm, driftPpmPerReading } =
    BENCH_ACTS[act].conditions;
  return {
    ...bench,
    ...(inCircuit === false && { circuit: null }),
    ...(fingers === false && { fingersOhms: null }),
    ...(fixtureVolts !== undefined && { fixtureVolts }),
    ...(leads && { leads: { state: leads, senseOpen: senseOpen ?? false }, leadOhms: first.leadOhms }),
    meter: {
      ...bench.meter,
      ...(gainErrorPpm !== undefined && { gainErrorPpm }),
      ...(driftPpmPerReading !== undefined && { driftPpmPerReading }),
    },
  };
}
