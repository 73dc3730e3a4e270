import type { ListedPoint } from './point.ts';

/** Terminals joined to sets, by union and find. */
export class Joined {
  readonly #above = new Map<string, string>();

  /** Whether it is joined to anything yet or not, it is known from now on. */
  add(terminal: string): void {
    if (!this.#above.has(terminal)) this.#above.set(terminal, terminal);
  }

  join(one: string, other: string): void {
    this.add(one);
    this.add(other);
    const [a, b] = [this.rootOf(one), this.rootOf(other)];
    if (a !== b) this.#above.set(b, a);
  }

  areJoined(one: string, other: string): boolean {
    return one === other || this.rootOf(one) === this.rootOf(other);
  }

  /** The terminal that stands for all that are joined to this one; itself where it is not known. */
  rootOf(terminal: string): string {
    let root = terminal;
    for (let above = this.#above.get(root); above !== undefined && above !== root; above = this.#above.get(root)) {
      root = above;
    }
    // So that the next way up is short.
    for (let at = terminal; at !== root; ) {
      const above = this.#above.get(at) ?? root;
      this.#above.set(at, root);
      at = above;
    }
    return root;
  }

  /** All sets, each in the order its terminals were first named. */
  sets(): string[][] {
    const sets = new Map<string, string[]>();
    for (const terminal of this.#above.keys()) {
      const root = this.rootOf(terminal);
      const set = sets.get(root);
      if (set) set.push(terminal);
      else sets.set(root, [terminal]);
    }
    return [...sets.values()];
  }
}

type Pair = Pick<ListedPoint, 'from' | 'to' | 'expected' | 'state'>;

/** Terminals of a list joined as it says that they are connected. @param isTaken which of its closed points are taken */
export function joinedBy<P extends Pick<Pair, 'from' | 'to' | 'expected'>>(
  points: readonly P[],
  isTaken: (point: P) => boolean = () => true,
): Joined {
  const joined = new Joined();
  for (const one of points) {
    joined.add(one.from);
    joined.add(one.to);
    if (one.expected === 'closed' && isTaken(one)) joined.join(one.from, one.to);
  }
  return joined;
}

/** What a list says of its terminals. */
export interface Nets {
  /** Terminals that are connected however switches stand. */
  always: Joined;
  /** Terminals that are connected in some state of a switch or always. */
  sometimes: Joined;
  /** Those of `always`, each in the order of the list. */
  nets: readonly (readonly string[])[];
}

/** The nets of a list: connected components of its closed points. */
export function netsOf(points: readonly Pair[]): Nets {
  const always = joinedBy(points, ({ state }) => state === '');
  return { always, sometimes: joinedBy(points), nets: always.sets() };
}

/**
 * The points that the others contradict: those that must be open, between terminals that the closed points connect in the same
 * state (always, or with the switch as this point has it; for a point without a state in any one state).
 * @returns places in the list, in order
 */
export function contradictionsIn(points: readonly Pair[]): number[] {
  const states = [...new Set(points.map(({ state }) => state))];
  const joined = new Map(
    states.map((state) => [state, joinedBy(points, (one) => one.state === '' || one.state === state)] as const),
  );
  return points.flatMap(({ from, to, expected, state }, index) => {
    if (expected === 'closed') return [];
    const looked = state === '' ? [...joined.values()] : [joined.get(state)];
    return looked.some((one) => one?.areJoined(from, to)) ? [index] : [];
  });
}
