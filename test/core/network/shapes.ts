import type { Network, Resistor } from '../../../core/network/network.ts';

/** Resistors of 1 Ω, or of others, along edges between numbered nodes. */
export function alongEdges(edges: readonly (readonly [number, number])[], ohms: readonly string[] = []): Network {
  const resistors = edges.map(
    ([from, to], index): Resistor => ({
      name: `R${index + 1}`,
      from: String(from),
      to: String(to),
      ohms: ohms[index] ?? '1',
      tolerance: null,
    }),
  );
  return { resistors, sources: [], between: null };
}

/** The edges of a cube whose corners are numbered by their coordinates as bits. */
export const CUBE = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((corner) =>
  [1, 2, 4].filter((bit) => (corner & bit) === 0).map((bit) => [corner, corner | bit] as const),
);

/** A ladder of so many sections, each 1 Ω along and 1 Ω across, from node 1 to node 0; its far end is open. */
export function ladder(sections: number): Network {
  return alongEdges(
    Array.from({ length: sections }, (_, section) => section + 1).flatMap((node) => [
      [node, node + 1] as const,
      [node + 1, 0] as const,
    ]),
  );
}
