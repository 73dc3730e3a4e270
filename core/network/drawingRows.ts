import type { Columns, Edge } from './drawingColumns.ts';

/** Rows of edges, and where nodes reach from and to. */
export interface Rows {
  /** Of each edge, from 0 at the top. Two in the same row never lie above each other. */
  row: number[];
  /** Of each node: its first and its last row. */
  reach: { top: number; bottom: number }[];
}

/** What is worse than any length: a line across a node it does not belong to, two nodes in each other's way. */
const CROSSING = 1000;
const IN_THE_WAY = 900;
const MOST_ROUNDS = 12;

/** Edges that follow each other in one row. */
interface Track {
  edges: number[];
  from: number;
  to: number;
}

/**
 * A row for each edge, so that few lines cross nodes and nodes are short: edges that lead on from each other lie in one row, and rows are
 * exchanged as long as that makes it better. Of equal ones the first found is kept: the same network is drawn the same way.
 * @param weight of each edge: the heavier lead on straight through a node
 */
export function rowsOf(edges: readonly Edge[], columns: Columns, weight: readonly number[]): Rows {
  const row = new Array<number>(edges.length).fill(0);
  const reach = columns.column.map(() => ({ top: 0, bottom: 0 }));
  let begin = 0;
  for (const part of columns.parts) {
    const inPart = new Set(part);
    const own = edges.flatMap(({ from }, index) => (inPart.has(from) ? [index] : []));
    const placed = new PartRows(edges, own, part, columns, weight).place();
    for (const [edge, at] of placed.row) row[edge] = begin + at;
    for (const [node, { top, bottom }] of placed.reach) reach[node] = { top: begin + top, bottom: begin + bottom };
    begin += placed.count;
  }
  return { row, reach };
}

class PartRows {
  readonly #tracks: Track[];
  /** Of each node the tracks it lies on. */
  readonly #tracksOf = new Map<number, number[]>();
  /** Tracks with the nodes that they may cross. */
  readonly #passes: [track: number, node: number][] = [];
  readonly #sameColumn: [number, number][] = [];

  constructor(
    edges: readonly Edge[],
    own: readonly number[],
    part: readonly number[],
    columns: Columns,
    weight: readonly number[],
  ) {
    const { column, order } = columns;
    const leftOf = ({ from, to }: Edge) => ((order[from] as number) < (order[to] as number) ? from : to);
    const rightOf = (edge: Edge) => (leftOf(edge) === edge.from ? edge.to : edge.from);
    const edgeAt = (index: number) => edges[index] as Edge;
    const spanOf = (index: number) =>
      (column[rightOf(edgeAt(index))] as number) - (column[leftOf(edgeAt(index))] as number);
    const heaviest = (a: number, b: number) =>
      (weight[b] as number) - (weight[a] as number) || spanOf(a) - spanOf(b) || a - b;
    const next = new Map<number, number>();
    const hasBefore = new Set<number>();
    for (const node of part) {
      const incoming = own.filter((index) => rightOf(edgeAt(index)) === node).sort(heaviest);
      const outgoing = own.filter((index) => leftOf(edgeAt(index)) === node).sort(heaviest);
      for (const [place, edge] of incoming.entries()) {
        const on = outgoing[place];
        if (on === undefined) break;
        next.set(edge, on);
        hasBefore.add(on);
      }
    }
    this.#tracks = own
      .filter((index) => !hasBefore.has(index))
      .map((index) => {
        const along = [index];
        for (let on = next.get(index); on !== undefined; on = next.get(on)) along.push(on);
        const [begin, end] = [leftOf(edgeAt(index)), rightOf(edgeAt(along.at(-1) as number))];
        return { edges: along, from: column[begin] as number, to: column[end] as number };
      });
    for (const [track, { edges: along }] of this.#tracks.entries()) {
      for (const edge of along.map(edgeAt)) {
        for (const node of [edge.from, edge.to]) {
          const known = this.#tracksOf.get(node) ?? [];
          if (!known.includes(track)) this.#tracksOf.set(node, [...known, track]);
        }
        for (const node of part) {
          const at = column[node] as number;
          if (at > (column[leftOf(edge)] as number) && at < (column[rightOf(edge)] as number)) {
            this.#passes.push([track, node]);
          }
        }
      }
    }
    for (const [index, node] of part.entries()) {
      for (const other of part.slice(index + 1)) {
        if (column[node] === column[other]) this.#sameColumn.push([node, other]);
      }
    }
  }

  place(): { row: Map<number, number>; reach: Map<number, { top: number; bottom: number }>; count: number } {
    const rows = this.#closer(this.#improved(this.#inserted()));
    const row = new Map<number, number>();
    for (const [track, { edges }] of this.#tracks.entries()) {
      for (const edge of edges) row.set(edge, rows[track] as number);
    }
    return { row, reach: this.#reach(rows), count: Math.max(0, ...rows) + 1 };
  }

  /** The longest tracks first, each where it does least harm; among equals below the ones before it. */
  #inserted(): number[] {
    const longestFirst = [...this.#tracks.keys()].sort((a, b) => this.#length(b) - this.#length(a) || a - b);
    let placed: number[] = [];
    for (const track of longestFirst) {
      const ways = Array.from({ length: placed.length + 1 }, (_, at) => placed.toSpliced(at, 0, track));
      placed = ways.reduce((best, way) => (this.#cost(rowsIn(way)) <= this.#cost(rowsIn(best)) ? way : best));
    }
    return placed;
  }

  #length(track: number): number {
    const { from, to } = this.#tracks[track] as Track;
    return to - from;
  }

  #improved(begin: number[]): number[] {
    let best = begin;
    let least = this.#cost(rowsIn(best));
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const before = least;
      for (const track of this.#tracks.keys()) {
        const others = best.filter((each) => each !== track);
        for (let at = 0; at <= others.length; at++) {
          const way = others.toSpliced(at, 0, track);
          const cost = this.#cost(rowsIn(way));
          if (cost < least) [best, least] = [way, cost];
        }
      }
      if (least === before) break;
    }
    return best;
  }

  /** Tracks that do not lie above each other share a row where that makes nothing worse. */
  #closer(order: number[]): number[] {
    let rows: number[] = this.#tracks.map((_, track) => order.indexOf(track));
    for (let isCloser = true; isCloser; ) {
      isCloser = false;
      const cost = this.#cost(new Map(rows.entries()));
      for (const track of this.#tracks.keys()) {
        const free = [...new Set(rows)].filter((row) => row !== rows[track] && this.#isFree(rows, row, track));
        const isAlone = rows.filter((row) => row === rows[track]).length === 1;
        const way = free
          .map((row) => withoutGaps(rows.with(track, row)))
          .find((each) => isAlone && this.#cost(new Map(each.entries())) <= cost);
        if (!way) continue;
        rows = way;
        isCloser = true;
        break;
      }
    }
    return rows;
  }

  #isFree(rows: readonly number[], row: number, track: number): boolean {
    const own = this.#tracks[track] as Track;
    return this.#tracks.every(
      (other, index) => rows[index] !== row || index === track || other.to < own.from || other.from > own.to,
    );
  }

  #reach(rows: readonly number[]): Map<number, { top: number; bottom: number }> {
    const reach = new Map<number, { top: number; bottom: number }>();
    for (const [node, tracks] of this.#tracksOf) {
      const own = tracks.map((track) => rows[track] as number);
      reach.set(node, { top: Math.min(...own), bottom: Math.max(...own) });
    }
    return reach;
  }

  #cost(rows: ReadonlyMap<number, number>): number {
    const reach = new Map<number, [top: number, bottom: number]>();
    let cost = 0;
    for (const [node, tracks] of this.#tracksOf) {
      let [top, bottom] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (const track of tracks) {
        const row = rows.get(track);
        if (row === undefined) continue;
        if (row < top) top = row;
        if (row > bottom) bottom = row;
      }
      if (bottom < top) continue;
      reach.set(node, [top, bottom]);
      cost += bottom - top;
    }
    for (const [track, node] of this.#passes) {
      const row = rows.get(track);
      const across = reach.get(node);
      if (row !== undefined && across && row >= across[0] && row <= across[1]) cost += CROSSING;
    }
    for (const [a, b] of this.#sameColumn) {
      const [one, other] = [reach.get(a), reach.get(b)];
      if (one && other && one[0] <= other[1] && other[0] <= one[1]) cost += IN_THE_WAY;
    }
    return cost;
  }
}

/** Of each track the row it has in such an order. */
function rowsIn(order: readonly number[]): Map<number, number> {
  return new Map(order.map((track, row) => [track, row]));
}

function withoutGaps(rows: readonly number[]): number[] {
  const used = [...new Set(rows)].sort((a, b) => a - b);
  return rows.map((row) => used.indexOf(row));
}
