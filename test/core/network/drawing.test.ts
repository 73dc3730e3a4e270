import { describe, expect, it } from 'vitest';
import { cornersOf } from '../../../core/network/corner.ts';
import {
  BODY,
  BODY_WORDS,
  type Drawing,
  drawingOf,
  LETTER,
  MOST_DRAWN,
  NODE_WORDS,
} from '../../../core/network/drawing.ts';
import { type Network, nodesOf, type Terminals } from '../../../core/network/network.ts';
import { readNetwork } from '../../../core/network/readNetwork.ts';
import { alongEdges, CUBE, ladder } from './shapes.ts';

const series = readNetwork('1k + 2k + 3k + 4k + 5k + 6k + 7k + 8k');
const bank = readNetwork('1k || 2k || 3k || 4k || 5k || 6k || 7k || 8k');
const BRIDGE = 'R1 in left 1k\nR2 in right 2k\nR3 left out 3k\nR4 right out 1k\nR5 left right 500\nbetween in out';
const R_2R = [
  'R1 d 0 20k',
  'R2 d c 10k',
  'R3 c 0 20k',
  'R4 c b 10k',
  'R5 b 0 20k',
  'R6 b a 10k',
  'R7 a 0 20k',
  'between a 0',
].join('\n');
const DELTA_STAR = 'R1 a b 1k\nR2 b c 1k\nR3 c a 1k\nR4 a star 300\nR5 b star 300\nR6 c star 300\nbetween a b';
const apart = 'R1 a b 1k\nR2 b c 1k\nR3 far away 1k\nR4 a dead 1k\nR5 dead end 1k\nbetween a c';
const sourced = 'R1 in mid 1k\nR2 mid out 1k\nV1 mid ground 5V 10\nbetween in out';

const longNames = [
  'A-rather-long-name in a-node-of-a-long-name 1k',
  'Another-rather-long-name a-node-of-a-long-name out 1k',
  'R3 in other 1k',
  'R4 other out 1k',
  'between in out',
].join('\n');

function drawn(network: Network, between: Terminals = network.between as Terminals): Drawing {
  return drawingOf(network, cornersOf(network, between).nominal) as Drawing;
}

interface Box {
  what: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

function boxesOf({ nodes, elements }: Drawing): Box[] {
  return [
    ...nodes.map(({ name, x, top, bottom }) => ({
      what: `node ${name}`,
      left: x - 4,
      right: x + 4,
      top: top - 4,
      bottom: bottom + 4,
    })),
    ...elements.map(({ name, body: { x, y } }) => ({
      what: name,
      left: x - BODY.width / 2,
      right: x + BODY.width / 2,
      top: y - BODY.height / 2,
      bottom: y + BODY.height / 2,
    })),
  ];
}

const overlap = (a: Box, b: Box) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

const NETWORKS: [string, Network, Terminals?][] = [
  ['a series string of 8', series],
  ['a bank of 8', bank],
  ['a bridge', readNetwork(BRIDGE)],
  ['R-2R of 4 bits', readNetwork(R_2R)],
  ['a ladder of 6', ladder(6), ['1', '0']],
  ['delta and star', readNetwork(DELTA_STAR)],
  ['a cube', alongEdges(CUBE), ['0', '7']],
  ['what hangs apart and dead ends', readNetwork(apart)],
  ['terminals that nothing joins', readNetwork('R1 a b 1k\nR2 b e 1k\nR3 c d 1k\nbetween a c')],
  ['0 Ω beside others', readNetwork('R1 a b 0\nR2 a b 1k\nR3 b c 0\nbetween a c')],
  ['all of 0 Ω', readNetwork('R1 a b 0\nR2 b c 0\nbetween a c')],
  ['with a source', readNetwork(sourced)],
  ['long names', readNetwork(longNames)],
];

describe.each(NETWORKS)('%s', (_, network, between) => {
  const drawing = drawn(network, between);

  it('lies nowhere upon itself', () => {
    const boxes = boxesOf(drawing);
    const found = boxes.flatMap((a, index) =>
      boxes.slice(index + 1).flatMap((b) => (overlap(a, b) ? [`${a.what}, ${b.what}`] : [])),
    );
    expect(found).toEqual([]);
    // No line runs through another's body, or in the row of another.
    for (const one of drawing.elements) {
      for (const other of drawing.elements) {
        if (one === other || one.body.y !== other.body.y) continue;
        const [a, b] = [one.line, other.line];
        expect(a[1].x <= b[0].x || b[1].x <= a[0].x, `${one.name}, ${other.name}`).toBe(true);
      }
    }
  });

  it('writes no word upon another, or upon a node', () => {
    const { nodes, elements, terminals } = drawing;
    const word = (what: string, text: string, most: number, { x, y }: { x: number; y: number }): Box => {
      const half = Math.min(text.length * LETTER, most) / 2;
      return { what, left: x - half, right: x + half, top: y - 12, bottom: y + 3 };
    };
    const words = [
      ...nodes
        .filter(({ name }) => terminals.every((terminal) => terminal.name !== name))
        .map(({ name, label }) => word(`name of node ${name}`, name, NODE_WORDS, label)),
      ...elements.map(({ name, body }) => word(`name of ${name}`, name, BODY_WORDS, { x: body.x, y: body.y - 17 })),
      ...elements.map(({ name, body }) =>
        word(`value of ${name}`, '123.45 kΩ', BODY_WORDS, { x: body.x, y: body.y + 27 }),
      ),
    ];
    const all = [...words, ...boxesOf(drawing)];
    const found = words.flatMap((a) => all.flatMap((b) => (a !== b && overlap(a, b) ? [`${a.what}, ${b.what}`] : [])));
    expect(found).toEqual([]);
  });

  it('joins what the network joins', () => {
    const nodes = new Map(drawing.nodes.map((node) => [node.name, node]));
    expect([...nodes.keys()]).toEqual(nodesOf(network));
    for (const [index, { name, from, to }] of [...network.resistors, ...network.sources].entries()) {
      const element = drawing.elements[index];
      if (!element) throw new Error(`${name} is missing`);
      expect(element.name).toBe(name);
      const ends = element.fromLeft ? [from, to] : [to, from];
      for (const [end, { x, y }] of element.line.entries()) {
        const node = nodes.get(ends[end] as string);
        expect(node).toMatchObject({ x });
        expect(node?.joints).toContain(y);
      }
      expect(element.line[0].x).toBeLessThan(element.line[1].x);
    }
  });

  it('lies within its width and height, its terminals at its ends', () => {
    const { width, height, terminals } = drawing;
    for (const { left, right, top, bottom } of boxesOf(drawing)) {
      expect(Math.min(left, top, width - right, height - bottom)).toBeGreaterThan(0);
    }
    const xs = drawing.nodes.map(({ x }) => x);
    expect(terminals.map(({ at }) => at.x)).toEqual([Math.min(...xs), Math.max(...xs)]);
  });

  it('is drawn the same way again', () => expect(drawn(network, between)).toEqual(drawing));
});

it.each(NETWORKS.slice(0, 6))('%s has no crossing', (_, network, between) => {
  expect(drawn(network, between).elements.flatMap(({ crossings }) => crossings)).toEqual([]);
});

it('lays what is in series in one row, and what is side by side in rows of their own', () => {
  expect(new Set(drawn(series).elements.map(({ body }) => body.y)).size).toBe(1);
  expect(new Set(drawn(bank).elements.map(({ body }) => body.x)).size).toBe(1);
  expect(drawn(bank).elements.map(({ body }) => body.y)).toEqual(
    drawn(bank)
      .elements.map(({ body }) => body.y)
      .toSorted((a, b) => a - b),
  );
});

it('draws no more than anybody can follow', () => {
  const string = (resistors: number) => readNetwork(Array.from({ length: resistors }, () => '1k').join(' + '));
  expect(drawn(string(MOST_DRAWN)).elements).toHaveLength(MOST_DRAWN);
  expect(drawn(string(MOST_DRAWN + 1))).toBeNull();
});
