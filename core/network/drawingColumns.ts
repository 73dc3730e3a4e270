/** Two nodes, by their numbers, that something is drawn between. */
export interface Edge {
  from: number;
  to: number;
}

/** Where along the drawing nodes stand. */
export interface Columns {
  /** Of each node, from 0 at the left. No two that are joined have the same. */
  column: number[];
  /** Of each node: its place among all, so that what is drawn goes from a lower to a higher one. */
  order: number[];
  /** The nodes of each part that nothing joins with the others; the part of the terminals first. */
  parts: number[][];
}

/** Shares of the voltage nearer to each other are the same. */
const STEPS = 1e9;

/**
 * Nodes from the one terminal at the left to the other at the right, by what share of the voltage between the terminals they have; each as
 * far to the left as what it is joined with lets it. Dead ends stand beside what they hang on.
 * @param share of each node: 1 at the first terminal, 0 at the second; null where that says nothing of it
 */
export function columnsOf(
  nodes: number,
  edges: readonly Edge[],
  share: readonly (number | null)[],
  [first, last]: readonly [number, number],
): Columns {
  const around = neighboursOf(nodes, edges);
  const parts = partsFrom(nodes, around, [first, last]);
  const column = new Array<number>(nodes).fill(0);
  const order = new Array<number>(nodes).fill(0);
  let placed = 0;
  for (const part of parts) {
    const sorted = part.includes(first) && part.includes(last) ? byShare(part, around, share, [first, last]) : part;
    // What hangs on the second terminal alone leads towards it.
    const isMirrored = part[0] === last;
    const listed = isMirrored ? sorted.toReversed() : sorted;
    for (const node of listed) order[node] = placed++;
    placePart(listed, around, order, column, isMirrored ? last : (listed[0] as number));
    if (part.includes(first)) setApart(part, column, first, -1);
    if (part.includes(last)) setApart(part, column, last, 1);
    const least = Math.min(...part.map((node) => column[node] as number));
    for (const node of part) column[node] = (column[node] as number) - least;
  }
  const isSplit = !parts[0]?.includes(last);
  const lastPart = isSplit ? parts.find((part) => part.includes(last)) : undefined;
  const behind = Math.max(...column) - (column[last] as number);
  for (const node of lastPart ?? []) column[node] = (column[node] as number) + behind;
  return { column, order, parts };
}

function neighboursOf(nodes: number, edges: readonly Edge[]): number[][] {
  const around = Array.from({ length: nodes }, (): number[] => []);
  for (const { from, to } of edges) {
    around[from]?.push(to);
    around[to]?.push(from);
  }
  return around;
}

/** Each part as it is walked from a terminal, or from its first node, the nearest first. */
function partsFrom(nodes: number, around: readonly number[][], terminals: readonly number[]): number[][] {
  const seen = new Set<number>();
  const parts: number[][] = [];
  for (const begin of [...terminals, ...Array.from({ length: nodes }, (_, node) => node)]) {
    if (seen.has(begin)) continue;
    const part = [...distancesFrom(begin, around).keys()];
    for (const node of part) seen.add(node);
    parts.push(part);
  }
  return parts;
}

/** How many steps each node is away from one of them, the nearest first. */
function distancesFrom(begin: number, around: readonly number[][]): Map<number, number> {
  const steps = new Map([[begin, 0]]);
  for (const [node, away] of steps) {
    for (const other of around[node] ?? []) if (!steps.has(other)) steps.set(other, away + 1);
  }
  return steps;
}

function byShare(
  part: readonly number[],
  around: readonly number[][],
  share: readonly (number | null)[],
  [first, last]: readonly [number, number],
): number[] {
  const [toFirst, toLast] = [distancesFrom(first, around), distancesFrom(last, around)];
  const known = (node: number): number => {
    if (node === first) return 2 * STEPS;
    if (node === last) return -STEPS;
    const [a, b] = [toFirst.get(node) ?? 1, toLast.get(node) ?? 1];
    return Math.round((share[node] ?? b / (a + b)) * STEPS);
  };
  const away = (node: number) =>
    known(node) > STEPS / 2 ? (toFirst.get(node) as number) : -(toLast.get(node) as number);
  return part.toSorted((a, b) => known(b) - known(a) || away(a) - away(b) || a - b);
}

/** Nodes that lead from the root stand behind the last before them; the others before the first behind them. */
function placePart(
  listed: readonly number[],
  around: readonly number[][],
  order: readonly number[],
  column: number[],
  root: number,
): void {
  const before = (node: number) =>
    (around[node] ?? []).filter((other) => (order[other] as number) < (order[node] as number));
  const behind = (node: number) =>
    (around[node] ?? []).filter((other) => (order[other] as number) > (order[node] as number));
  const leads = new Set([root]);
  for (const node of listed) {
    const from = before(node).filter((other) => leads.has(other));
    if (from.length === 0) continue;
    leads.add(node);
    column[node] = Math.max(...from.map((other) => (column[other] as number) + 1));
  }
  for (const node of listed.toReversed()) {
    if (leads.has(node)) continue;
    column[node] = Math.min(...behind(node).map((other) => (column[other] as number) - 1));
  }
}

/** A terminal stands beyond all others of its part. */
function setApart(part: readonly number[], column: number[], terminal: number, way: -1 | 1): void {
  const others = part.filter((node) => node !== terminal).map((node) => (column[node] as number) * way);
  if (others.length === 0) return;
  column[terminal] = Math.max((column[terminal] as number) * way, Math.max(...others) + 1) * way;
}
