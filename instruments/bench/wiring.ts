import { z } from 'zod';
import { Circuit } from '../../core/network/circuit.ts';

const terminal = z.string().min(1).max(60);
const MOST_WIRES = 5000;
const wireNumber = z.int().min(1).max(MOST_WIRES);

/** What is wired on the bench, and what is wrong with it. Wires are counted from 1. */
export const wiringSchema = z
  .strictObject({
    wires: z
      .array(
        z.strictObject({
          from: terminal,
          to: terminal,
          ohms: z.number().min(0.000001).max(1e9).default(0.05),
          /** It conducts only while a switch stands like this (`BENCh:STATe`); empty for a wire that always does. */
          state: z.string().max(60).default(''),
        }),
      )
      .max(MOST_WIRES),
    faults: z
      .array(
        z.discriminatedUnion('kind', [
          z.strictObject({ kind: z.literal('broken'), wire: wireNumber }),
          /** A bad contact: so many ohms more. */
          z.strictObject({ kind: z.literal('resistive'), wire: wireNumber, ohms: z.number().positive().max(1e9) }),
          /** Two wires have changed their far ends. */
          z.strictObject({ kind: z.literal('swapped'), wires: z.tuple([wireNumber, wireNumber]) }),
          /** Terminals that are connected and must not be. */
          z.strictObject({
            kind: z.literal('crossed'),
            from: terminal,
            to: terminal,
            ohms: z.number().min(0.000001).max(1e9).default(0.05),
          }),
        ]),
      )
      .max(MOST_WIRES)
      .default([]),
  })
  .refine(
    ({ wires, faults }) =>
      faults.every((fault) => {
        const named = 'wire' in fault ? [fault.wire] : 'wires' in fault ? fault.wires : [];
        return named.every((number) => number <= wires.length);
      }),
    { path: ['faults'], error: 'must name wires that are there' },
  );

export type Wiring = z.output<typeof wiringSchema>;
export type WiringInput = z.input<typeof wiringSchema>;

/** Two terminals under the probes, as the bench answers them: `"A1","B3"`. Names are written as in an address of the web. */
export type PairPlace = `"${string}","${string}"`;

export function pairPlace(from: string, to: string): PairPlace {
  return `"${plainName(from)}","${plainName(to)}"`;
}

/** The terminals of a pair; null of any other place. */
export function terminalsOf(place: unknown): readonly [from: string, to: string] | null {
  const [, from, to] = typeof place === 'string' ? (/^"([^"]*)","([^"]*)"$/.exec(place) ?? []) : [];
  return from === undefined || to === undefined ? null : [decoded(from), decoded(to)];
}

/** As a name travels over a line of Latin letters: blanks, signs and other letters as `%` and hexadecimal digits. */
export function plainName(name: string): string {
  return encodeURIComponent(name)
    .replaceAll("'", '%27')
    .replaceAll('%20', ' ')
    .replaceAll('%3A', ':')
    .replaceAll('%2B', '+');
}

function decoded(name: string): string {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}

/**
 * Resistance between two terminals in ohms, with all that leads from the one to the other (core/network); null where nothing does.
 * @param state how switches stand
 */
export function wiringOhms(wiring: Wiring, [from, to]: readonly [string, string], state: string): number | null {
  if (from === to) return 0;
  const nodes = new Map<string, number>();
  const nodeOf = (name: string): number => {
    const known = nodes.get(name);
    if (known !== undefined) return known;
    nodes.set(name, nodes.size);
    return nodes.size - 1;
  };
  const branches = conductorsOf(wiring, state).map((one) => ({
    from: nodeOf(one.from),
    to: nodeOf(one.to),
    ohms: one.ohms,
  }));
  const [a, b] = [nodeOf(from), nodeOf(to)];
  const { ohms } = new Circuit(nodes.size, branches, [a, b]);
  return Number.isFinite(ohms) ? ohms : null;
}

interface Conductor {
  from: string;
  to: string;
  ohms: number;
}

/** What conducts while switches stand so, faults and all. */
function conductorsOf({ wires, faults }: Wiring, state: string): Conductor[] {
  const real = wires.map((wire) => ({ ...wire, broken: false }));
  const crossed: Conductor[] = [];
  for (const fault of faults) {
    switch (fault.kind) {
      case 'broken':
        Object.assign(real[fault.wire - 1] ?? {}, { broken: true });
        break;
      case 'resistive': {
        const wire = real[fault.wire - 1];
        if (wire) wire.ohms += fault.ohms;
        break;
      }
      case 'swapped': {
        const [one, other] = [real[fault.wires[0] - 1], real[fault.wires[1] - 1]];
        if (one && other) [one.to, other.to] = [other.to, one.to];
        break;
      }
      case 'crossed':
        crossed.push(fault);
    }
  }
  return [...real.filter((wire) => !wire.broken && (wire.state === '' || wire.state === state)), ...crossed];
}
