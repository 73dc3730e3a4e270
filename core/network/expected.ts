import { CORNERS, type Corner, type CornerName, wireCurrent } from './corner.ts';
import type { Network } from './network.ts';

/** How much one resistor moves the whole. */
export interface Sensitivity {
  name: string;
  /** Ohms that the whole changes by for an ohm of this one: the square of its share of the current, 0 to 1. */
  perOhm: number;
  /** Per cent that the whole changes by for a per cent of this one. */
  perPercent: number;
  /** Half the whole's window that this one's tolerance makes, in ohms. */
  spreadOhms: number;
}

/** What is to be read between two terminals. All in ohms; infinity where nothing joins them. */
export interface Expected {
  nominal: number;
  /** Worst case: no values within tolerances give less, or more. */
  lowest: number;
  highest: number;
  /** Root-sum-square: as far from the nominal value as tolerances that are independent go together. */
  likelyLowest: number;
  likelyHighest: number;
  /** Largest first. */
  sensitivities: Sensitivity[];
  /** Whether some resistor was given without a tolerance. */
  isWithoutTolerance: boolean;
}

/**
 * What the network reads between its terminals. Resistance rises with that of each resistor (Rayleigh's monotonicity law), so all at their
 * lowest and all at their highest give the worst case exactly. The change with one resistor is the square of its current at 1 A.
 * The root-sum-square takes it for the same over the whole tolerance (JCGM 100:2008, 5.1.2, without correlation).
 */
export function expectedOf(network: Network, corners: Record<CornerName, Corner>): Expected {
  const { nominal } = corners;
  const sensitivities = network.resistors.map(({ name }, index): Sensitivity => {
    const { ohms } = nominal.branches[index] as { ohms: number };
    const perOhm = currentSquared(nominal, index);
    const whole = nominal.ohms;
    const perPercent = whole === 0 || whole === Number.POSITIVE_INFINITY ? 0 : (perOhm * ohms) / whole;
    const [low, high] = [ohmsOf(corners.lowest, index), ohmsOf(corners.highest, index)];
    return { name, perOhm, perPercent, spreadOhms: (perOhm * (high - low)) / 2 };
  });
  const [nominalOhms, lowest, highest] = CORNERS.map((corner) => corners[corner].ohms) as [number, number, number];
  const down = rootOfSquares(sensitivities, corners, 'lowest');
  const up = rootOfSquares(sensitivities, corners, 'highest');
  return {
    nominal: nominalOhms,
    lowest,
    highest,
    likelyLowest: Math.max(lowest, nominalOhms - down),
    likelyHighest: Math.min(highest, nominalOhms + up),
    sensitivities: sensitivities.toSorted((a, b) => b.perPercent - a.perPercent),
    isWithoutTolerance: network.resistors.some(({ tolerance }) => tolerance === null),
  };
}

/** Each resistor to one side of its nominal value, times what that does, all together. */
function rootOfSquares(
  sensitivities: readonly Sensitivity[],
  corners: Record<CornerName, Corner>,
  side: 'lowest' | 'highest',
): number {
  let sum = 0;
  for (const [index, { perOhm }] of sensitivities.entries()) {
    sum += (perOhm * (ohmsOf(corners[side], index) - ohmsOf(corners.nominal, index))) ** 2;
  }
  return Math.sqrt(sum);
}

function ohmsOf({ branches }: Corner, index: number): number {
  return branches[index]?.ohms ?? 0;
}

/** Of a branch of 0 Ω, by what it would carry between its ends as they are without it (Thévenin). */
function currentSquared(corner: Corner, index: number): number {
  const { branches, drop } = corner;
  const ohms = branches[index]?.ohms ?? 0;
  if (ohms > 0) return ((drop[index] as number) / ohms) ** 2;
  return wireCurrent(corner, index) ** 2;
}
