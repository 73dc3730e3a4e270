import { lotCauses } from '../../core/diagnosis/lotCauses.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { parseTolerance } from '../../core/window/parseTolerance.ts';
import { windowOf } from '../../core/window/window.ts';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { REEL_NAMES } from '../../instruments/bench/reels.ts';
import { readScenario, scenarioForPart } from '../../instruments/bench/scenario.ts';

/** Milliseconds for the diagnosis of a lot of so many readings, one of each kind of reel of the simulated bench. */
export function measureDiagnosis(count = 10_000): number[] {
  const tolerance = parseTolerance('1 %');
  const window = windowOf(parseOhms('4700'), tolerance);
  return REEL_NAMES.map((reel, index) => {
    const part = { seed: index + 1, nominalOhms: 4700, lowerOhms: 4653, upperOhms: 4747, reel };
    const scenario = readScenario(scenarioForPart(part));
    const readings = Array.from({ length: count }, (_, place) => {
      const ohms = trueOhms(scenario, place + 1);
      return {
        ohms: ohms === null ? null : Number(ohms.toFixed(2)),
        piece: place + 1,
        position: place + 1,
        atMilliseconds: 1000 * place,
        counts: true,
      };
    });
    const lot = {
      window,
      tolerance,
      method: '2-wire' as const,
      expandedOhms: 0.5,
      resolutionOhms: 0.01,
      references: [],
    };
    const began = performance.now();
    lotCauses({ ...lot, readings });
    return performance.now() - began;
  });
}
