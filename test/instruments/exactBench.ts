import type { BenchScenarioInput } from '../../instruments/bench/scenario.ts';

/** Pieces of one exact value that no temperature changes, and contacts that never differ: what is read is arithmetic. */
export function exactBench(nominalOhms: number): BenchScenarioInput & { lot: NonNullable<BenchScenarioInput['lot']> } {
  return {
    lot: {
      nominalOhms,
      meanOffsetPercent: 0,
      spreadPercent: 0,
      shareOpen: 0,
      shareWrong: 0,
      tcrPpmPerKelvin: 0,
      tcrSpreadPpmPerKelvin: 0,
    },
    contactSpreadOhms: 0,
  };
}
