import type { Run } from '../../core/inspection/run.ts';
import type { PracticeAct } from '../../core/practice/practiceAct.ts';
import { BENCH_ACTS } from '../../instruments/bench/benchActs.ts';
import { type BenchScenario, type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';

/**
 * What lies on the bench of an exercise that is gone on with: as its scenario says, then what has changed since by itself and what was
 * done about it, in that order in which they came.
 * @param pieces how often the probes were put on a piece before
 */
export function benchAsLeft(given: unknown, pieces: number, acts: Run['practised']['acts']): BenchScenarioInput {
  const scenario = readScenario(given);
  const isPast = ({ afterPieces }: Later) => afterPieces < pieces;
  const ahead = scenario.later.filter((one) => !isPast(one));
  const steps = [
    ...scenario.later.filter(isPast).map(({ afterPieces, ...change }) => ({
      at: afterPieces,
      step: (bench: BenchScenario) => withChange(bench, change),
    })),
    // Done between two readings, it comes before what the next one brings.
    ...acts.map(({ act, afterReading }) => ({
      at: afterReading - 0.5,
      step: (bench: BenchScenario) => done(bench, act, scenario),
    })),
    { at: pieces, step: (bench: BenchScenario) => bench },
  ].sort((a, b) => a.at - b.at);
  let left: BenchScenario = {
    ...scenario,
    later: ahead.map((one) => ({ ...one, afterPieces: one.afterPieces - pieces })),
  };
  let before = 0;
  for (const { at, step } of steps) {
    left = step(drifted(left, Math.max(0, at - before)));
    before = Math.max(before, at);
  }
  return left;
}

/** A meter that drifts has drifted with each piece at least. */
function drifted(bench: BenchScenario, pieces: number): BenchScenario {
  const { gainErrorPpm, driftPpmPerReading } = bench.meter;
  return { ...bench, meter: { ...bench.meter, gainErrorPpm: gainErrorPpm + driftPpmPerReading * pieces } };
}

type Later = BenchScenario['later'][number];
type Change = Omit<Later, 'afterPieces'>;

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
