import type { Corner } from './corner.ts';
import { type Columns, columnsOf, type Edge } from './drawingColumns.ts';
import { type Rows, rowsOf } from './drawingRows.ts';
import { type Network, nodesOf } from './network.ts';

/** Of more than these nobody finds his way in a drawing. */
export const MOST_DRAWN = 40;

/** Sizes in units of the drawing; a unit is a pixel at the usual size of text. */
export const BODY = { width: 44, height: 16 } as const;
/** Between one node and the next, and from row to row. */
export const GAP = 116;
export const ROW = 76;
/** How wide the words at a body and at a node may be. */
export const BODY_WORDS = 92;
export const NODE_WORDS = 88;
/** How wide a letter of these words is taken to be. */
export const LETTER = 7.6;
/** From a terminal's node to its mark. */
export const LEAD = 28;
/** Baseline of a node's name above its uppermost joint, or above the names of resistors in its row. */
const ABOVE = { node: 13, names: 32 } as const;
const MARGIN = { side: 120, top: 52, bottom: 44 } as const;

export interface Point {
  x: number;
  y: number;
}

/** A node: an upright line that joins all that is connected to it, or one point. */
export interface DrawnNode {
  name: string;
  x: number;
  top: number;
  bottom: number;
  /** Where something is connected to it. */
  joints: number[];
  /** Middle of the baseline of its name. A terminal has its name at its mark. */
  label: Point;
}

/** A resistor or a source: a level line from node to node with its body on it. */
export interface DrawnElement {
  name: string;
  kind: 'resistor' | 'source';
  line: readonly [left: Point, right: Point];
  /** Middle of the body, whose name is written above it, and its value below. */
  body: Point;
  /** Of a source, whether its positive end is the left one. */
  fromLeft: boolean;
  /** Where the line crosses a node that it does not belong to, by its place along it. */
  crossings: number[];
}

/** A terminal: a mark beside its node, at the end of a short line. */
export interface DrawnTerminal {
  name: string;
  at: Point;
  mark: Point;
}

export interface Drawing {
  width: number;
  height: number;
  nodes: DrawnNode[];
  /** Resistors in the order of the network, then sources. */
  elements: DrawnElement[];
  terminals: [DrawnTerminal, DrawnTerminal];
}

/**
 * A network as it is drawn, from its one terminal at the left to the other at the right: nodes are upright lines, by the voltage they have
 * while a current goes from terminal to terminal; what joins them are level lines, each in a row where nothing else lies, so that no body
 * and no word lies upon another. What is joined with no terminal stands below. Null of more than {@link MOST_DRAWN} elements.
 * @param corner of the network, between two different nodes
 */
export function drawingOf(
  network: Network,
  corner: Pick<Corner, 'circuit' | 'terminals' | 'drop' | 'branches'>,
): Drawing | null {
  const { resistors, sources } = network;
  if (resistors.length + sources.length > MOST_DRAWN) return null;
  const names = nodesOf(network);
  const numbers = new Map(names.map((name, number) => [name, number]));
  const edges = [...resistors, ...sources].map(
    ({ from, to }): Edge => ({ from: numbers.get(from) as number, to: numbers.get(to) as number }),
  );
  const columns = columnsOf(names.length, edges, sharesOf(names.length, corner), corner.terminals);
  const rows = rowsOf(
    edges,
    columns,
    edges.map((_, index) => currentOf(corner, index)),
  );
  const place = spread(columns, rows);
  const x = (node: number) => MARGIN.side + (place[node] as number) * GAP;
  const y = (row: number) => MARGIN.top + row * ROW;
  const nodes = names.map((name, node) => {
    const { top, bottom } = rows.reach[node] as { top: number; bottom: number };
    const joined = edges.flatMap(({ from, to }, index) =>
      from === node || to === node ? [rows.row[index] as number] : [],
    );
    const joints = [...new Set(joined)].sort((a, b) => a - b).map(y);
    return { name, x: x(node), top: y(top), bottom: y(bottom), joints };
  });
  const elements = [...resistors, ...sources].map(({ name }, index): DrawnElement => {
    const { from, to } = edges[index] as Edge;
    const fromLeft = (columns.order[from] as number) < (columns.order[to] as number);
    const [left, right] = fromLeft ? [from, to] : [to, from];
    const at = y(rows.row[index] as number);
    const middle = Math.floor(((place[left] as number) + (place[right] as number) - 1) / 2);
    return {
      name,
      kind: index < resistors.length ? 'resistor' : 'source',
      line: [
        { x: x(left), y: at },
        { x: x(right), y: at },
      ],
      body: { x: MARGIN.side + (middle + 0.5) * GAP, y: at },
      fromLeft,
      crossings: nodes
        .filter((node) => node.x > x(left) && node.x < x(right) && node.top <= at && node.bottom >= at)
        .map((node) => node.x),
    };
  });
  const terminal = (number: number, way: -1 | 1): DrawnTerminal => {
    const { name, x: beside, joints } = nodes[number] as (typeof nodes)[number];
    const at = joints[(joints.length - 1) >> 1] as number;
    return { name, at: { x: beside, y: at }, mark: { x: beside + way * LEAD, y: at } };
  };
  const [first, last] = corner.terminals;
  return {
    width: 2 * MARGIN.side + Math.max(...place) * GAP,
    height: MARGIN.top + MARGIN.bottom + Math.max(...rows.row) * ROW,
    nodes: nodes.map((node) => ({ ...node, label: { x: node.x, y: node.top - labelAbove(node, elements) } })),
    elements,
    terminals: [terminal(first, -1), terminal(last, 1)],
  };
}

/** How far above its node a name stands: close where it does not touch the name of a resistor beside it, else above those. */
function labelAbove(node: Pick<DrawnNode, 'name' | 'x' | 'top'>, elements: readonly DrawnElement[]): number {
  const reach = (name: string, most: number) => Math.min(name.length * LETTER, most) / 2;
  const own = reach(node.name, NODE_WORDS);
  const isNear = ({ name, body }: DrawnElement) =>
    body.y === node.top && Math.abs(body.x - node.x) < own + Math.max(reach(name, BODY_WORDS), BODY.width / 2) + 4;
  return elements.some(isNear) ? ABOVE.names : ABOVE.node;
}

/** What share of the voltage between the terminals each node has; null where nothing joins it with them. */
function sharesOf(nodes: number, { circuit, terminals }: Pick<Corner, 'circuit' | 'terminals'>): (number | null)[] {
  const [first, last] = terminals;
  if (!circuit.isConnected(first, last)) return new Array<null>(nodes).fill(null);
  const volts = circuit.volts(first, last);
  const whole = (volts[first] as number) - (volts[last] as number);
  return Array.from({ length: nodes }, (_, node) => {
    if (whole === 0 || !circuit.isConnected(first, node)) return null;
    return ((volts[node] as number) - (volts[last] as number)) / whole;
  });
}

/** What an element carries at 1 A, to three digits: what is nearly the same counts as the same. A source and 0 Ω carry as if nothing. */
function currentOf({ drop, branches }: Pick<Corner, 'drop' | 'branches'>, index: number): number {
  const ohms = branches[index]?.ohms ?? 0;
  return ohms > 0 ? Math.round((Math.abs(drop[index] as number) / ohms) * 1000) : 0;
}

/** The columns with nodes that would lie upon each other set side by side. */
function spread({ column, order }: Columns, { reach }: Rows): number[] {
  const place = new Array<number>(column.length).fill(0);
  let begin = 0;
  for (let at = 0; at <= Math.max(...column); at++) {
    const here = [...column.keys()]
      .filter((node) => column[node] === at)
      .sort((a, b) => (order[a] as number) - (order[b] as number));
    const lanes: number[][] = [];
    for (const node of here) {
      const isFree = (lane: readonly number[]) => lane.every((other) => isApart(reach, node, other));
      const lane = lanes.find(isFree);
      if (lane) lane.push(node);
      else lanes.push([node]);
    }
    for (const [index, lane] of lanes.entries()) for (const node of lane) place[node] = begin + index;
    begin += Math.max(1, lanes.length);
  }
  return place;
}

function isApart(reach: Rows['reach'], a: number, b: number): boolean {
  const [one, other] = [reach[a], reach[b]];
  return !one || !other || one.bottom < other.top || other.bottom < one.top;
}
