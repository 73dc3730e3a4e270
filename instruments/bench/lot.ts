import { normalAt, uniformAt } from './random.ts';
import type { BenchScenario } from './scenario.ts';

const KIND_KEY = 1;
const DEVIATION_KEY = 2;
const POPULATION_KEY = 8;
const PPM = 1e-6;
const MOST_DRAWS = 100;

type Lot = BenchScenario['lot'];

/**
 * True resistance of piece n of the reel in ohms, at 20 °C and before any treatment; null for a piece that conducts
 * nothing. It depends only on the scenario and n, not on which pieces were asked for before.
 */
export function trueOhms({ seed, lot }: BenchScenario, piece: number): number | null {
  const given = lot.pieces[piece - 1];
  if (given !== undefined) return given;
  const kind = uniformAt(seed, KIND_KEY, piece);
  if (kind < lot.shareOpen) return null;
  const drawn = (mean: number, ...draw: number[]) =>
    Math.max(0, mean * (1 + (lot.spreadPercent / 100) * normalAt(seed, DEVIATION_KEY, piece, ...draw)));
  if (kind < lot.shareOpen + lot.shareWrong) return drawn(lot.wrongOhms);

  const isSecond = uniformAt(seed, POPULATION_KEY, piece) < lot.shareSecond;
  const offset = (isSecond ? lot.secondOffsetPercent : lot.meanOffsetPercent) / 100;
  const mean = lot.nominalOhms * (1 + offset + (piece - 1) * lot.driftPpmPerPiece * PPM);
  let ohms = drawn(mean);
  // Where a piece was taken off the reel, the next one that was left stands in its place.
  for (let draw = 1; !isLeft(lot, ohms) && draw <= MOST_DRAWS; draw++) ohms = drawn(mean, draw);
  return isLeft(lot, ohms) ? ohms : nearestLeft(lot, ohms);
}

/** How far a value is from the nominal one, in per cent of it. */
function percentOff({ nominalOhms }: Lot, ohms: number): number {
  return (100 * (ohms - nominalOhms)) / nominalOhms;
}

/** Whether sorting left such a piece on the reel. */
function isLeft(lot: Lot, ohms: number): boolean {
  const off = Math.abs(percentOff(lot, ohms));
  return off >= lot.pickedOutPercent && (lot.cutPercent === null || off <= lot.cutPercent);
}

/** A lot that has next to no such pieces ends at the edge of what was left. */
function nearestLeft({ nominalOhms, pickedOutPercent, cutPercent }: Lot, ohms: number): number {
  const off = Math.abs(ohms - nominalOhms) < (pickedOutPercent / 100) * nominalOhms ? pickedOutPercent : cutPercent;
  const side = ohms < nominalOhms ? -1 : 1;
  return Math.max(0, nominalOhms * (1 + (side * (off ?? pickedOutPercent)) / 100));
}
