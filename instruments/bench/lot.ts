import { normalAt, uniformAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';

const KIND_KEY = 1;
const DEVIATION_KEY = 2;

/**
 * True resistance of piece n of the lot in ohms; null for a piece that conducts nothing. It depends only on the
 * scenario and n, not on which pieces were asked for before.
 */
export function trueOhms(scenario: BenchScenario, piece: number): number | null {
  const { seed, lot } = scenario;
  const kind = uniformAt(seed, KIND_KEY, piece);
  if (kind < lot.shareOpen) return null;
  const deviation = 1 + (lot.spreadPercent / 100) * normalAt(seed, DEVIATION_KEY, piece);
  const mean =
    kind < lot.shareOpen + lot.shareWrong ? lot.wrongOhms : lot.nominalOhms * (1 + lot.meanOffsetPercent / 100);
  return Math.max(0, mean * deviation);
}
