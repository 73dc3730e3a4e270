import type { Terminals } from './network.ts';

/** A resistor as far as currents go; 0 Ω joins its nodes, infinity is no resistor at all. */
export interface Branch {
  from: number;
  to: number;
  ohms: number;
}

/** What is eliminated of a node: what it leads to, each with its conductance, and the sum of these. */
interface Star {
  node: number;
  to: Int32Array;
  siemens: Float64Array;
  sum: number;
}

/**
 * Resistors joined at nodes, made ready for one pair of terminals: the nodes are eliminated one after the other by star and
 * mesh (each node with its n conductances g becomes n(n - 1)/2 between its neighbours, gᵢgⱼ/Σg; Rosen, 1924), the fewest neighbours first, the
 * two terminals last. Conductances are only added, multiplied and divided, so that nothing cancels: the resistance between the
 * terminals has all digits of a double, whatever the values (the same holds of Markov chains, Grassmann, Taksar and Heyman 1985).
 * With the stars kept each further current costs one walk over them.
 */
export class Circuit {
  /** Of the nodes as they were numbered: which stands for it where 0 Ω join some. */
  readonly #joined: Int32Array;
  readonly #stars: Star[] = [];
  readonly #from: number;
  readonly #to: number;
  /** Which part of a circuit that falls apart each node is in. */
  readonly #part: Int32Array;
  /** Between the terminals, in siemens. */
  readonly #between: number;

  /** @param nodes how many there are, numbered from 0 */
  constructor(nodes: number, branches: readonly Branch[], [from, to]: readonly [number, number]) {
    this.#joined = joinedNodes(nodes, branches);
    this.#from = this.#at(from);
    this.#to = this.#at(to);
    const mesh = this.#meshOf(nodes, branches);
    this.#part = partsOf(nodes, mesh);
    this.#between = this.#eliminate(mesh);
  }

  #at(node: number): number {
    return this.#joined[node] as number;
  }

  #meshOf(nodes: number, branches: readonly Branch[]): Map<number, number>[] {
    const mesh = Array.from({ length: nodes }, () => new Map<number, number>());
    for (const { from, to, ohms } of branches) {
      const [a, b] = [this.#at(from), this.#at(to)];
      if (a !== b && ohms !== Number.POSITIVE_INFINITY) join(mesh, a, b, 1 / ohms);
    }
    return mesh;
  }

  /** @returns what is left between the terminals */
  #eliminate(mesh: Map<number, number>[]): number {
    const queue = new ByNeighbours(mesh, (node) => node !== this.#from && node !== this.#to && this.#at(node) === node);
    for (let node = queue.take(); node !== null; node = queue.take()) {
      const around = mesh[node] as Map<number, number>;
      const to = Int32Array.from(around.keys());
      const siemens = Float64Array.from(around.values());
      let sum = 0;
      for (const each of siemens) sum += each;
      this.#stars.push({ node, to, siemens, sum });
      for (const other of to) (mesh[other] as Map<number, number>).delete(node);
      for (let i = 0; i < to.length; i++) {
        for (let j = i + 1; j < to.length; j++) {
          join(mesh, to[i] as number, to[j] as number, ((siemens[i] as number) / sum) * (siemens[j] as number));
        }
      }
      for (const other of to) queue.changed(other);
    }
    return mesh[this.#from]?.get(this.#to) ?? 0;
  }

  /** Between the terminals, in ohms; infinity where nothing leads from the one to the other. */
  get ohms(): number {
    return this.#from === this.#to ? 0 : 1 / this.#between;
  }

  /** Whether something leads from one node to the other. */
  isConnected(a: number, b: number): boolean {
    return this.#part[this.#at(a)] === this.#part[this.#at(b)];
  }

  /** Whether 0 Ω join two nodes. */
  isJoined(a: number, b: number): boolean {
    return this.#at(a) === this.#at(b);
  }

  /**
   * Volts at all nodes, against the second terminal (in another part: against one of its nodes), while 1 A goes in at one node and out
   * at another, between which something leads.
   */
  volts(into: number, outOf: number): Float64Array {
    const amperes = new Float64Array(this.#joined.length);
    const volts = new Float64Array(this.#joined.length);
    const [a, b] = [this.#at(into), this.#at(outOf)];
    if (a === b) return volts;
    amperes[a] = 1;
    amperes[b] = -1;
    for (const { node, to, siemens, sum } of this.#stars) {
      const ampere = amperes[node] as number;
      if (ampere === 0) continue;
      for (let i = 0; i < to.length; i++) {
        const other = to[i] as number;
        amperes[other] = (amperes[other] as number) + ampere * ((siemens[i] as number) / sum);
      }
    }
    if (this.#between > 0) volts[this.#from] = (amperes[this.#from] as number) / this.#between;
    for (let index = this.#stars.length - 1; index >= 0; index--) {
      const { node, to, siemens, sum } = this.#stars[index] as Star;
      // The last of a part that hangs on no terminal is what its volts are against.
      if (to.length === 0) continue;
      let inward = amperes[node] as number;
      for (let i = 0; i < to.length; i++) inward += (siemens[i] as number) * (volts[to[i] as number] as number);
      volts[node] = inward / sum;
    }
    for (let node = 0; node < volts.length; node++) volts[node] = volts[this.#at(node)] as number;
    return volts;
  }
}

/** Numbers of nodes by their names, and of two terminals. */
export function numbersOf(nodes: readonly string[]): Map<string, number> {
  return new Map(nodes.map((node, number) => [node, number]));
}

/** Where two terminals stand among nodes. */
export function terminalNumbers(numbers: ReadonlyMap<string, number>, [from, to]: Terminals): [number, number] {
  return [numbers.get(from) ?? 0, numbers.get(to) ?? 0];
}

function join(mesh: Map<number, number>[], a: number, b: number, siemens: number): void {
  const [one, other] = [mesh[a] as Map<number, number>, mesh[b] as Map<number, number>];
  const sum = (one.get(b) ?? 0) + siemens;
  one.set(b, sum);
  other.set(a, sum);
}

/** Which node stands for each, those at the two ends of 0 Ω being one. */
function joinedNodes(nodes: number, branches: readonly Branch[]): Int32Array {
  const joined = Int32Array.from({ length: nodes }, (_, node) => node);
  const root = (node: number): number => {
    let found = node;
    while (joined[found] !== found) found = joined[found] as number;
    return found;
  };
  for (const { from, to, ohms } of branches) if (ohms === 0) joined[root(from)] = root(to);
  return joined.map((_, node) => root(node));
}

function partsOf(nodes: number, mesh: readonly ReadonlyMap<number, number>[]): Int32Array {
  const part = new Int32Array(nodes).fill(-1);
  for (let begin = 0; begin < nodes; begin++) {
    if (part[begin] !== -1) continue;
    part[begin] = begin;
    const open = [begin];
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      for (const other of mesh[node]?.keys() ?? []) {
        if (part[other] !== -1) continue;
        part[other] = begin;
        open.push(other);
      }
    }
  }
  return part;
}

/** Nodes by how many neighbours they have now, the fewest first. */
class ByNeighbours {
  readonly #mesh: readonly ReadonlyMap<number, number>[];
  readonly #waiting: Set<number>[] = [];
  readonly #degree: Int32Array;
  #least = 0;

  constructor(mesh: readonly ReadonlyMap<number, number>[], isTaken: (node: number) => boolean) {
    this.#mesh = mesh;
    this.#degree = new Int32Array(mesh.length).fill(-1);
    for (let node = 0; node < mesh.length; node++) if (isTaken(node)) this.#put(node);
  }

  take(): number | null {
    for (; this.#least < this.#waiting.length; this.#least++) {
      for (const node of this.#waiting[this.#least] ?? []) {
        this.#waiting[this.#least]?.delete(node);
        this.#degree[node] = -1;
        return node;
      }
    }
    return null;
  }

  changed(node: number): void {
    const before = this.#degree[node] as number;
    if (before === -1) return;
    this.#waiting[before]?.delete(node);
    this.#put(node);
  }

  #put(node: number): void {
    const degree = this.#mesh[node]?.size ?? 0;
    this.#degree[node] = degree;
    for (let at = this.#waiting.length; at <= degree; at++) this.#waiting.push(new Set());
    this.#waiting[degree]?.add(node);
    this.#least = Math.min(this.#least, degree);
  }
}
