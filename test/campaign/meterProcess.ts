import { createInterface } from 'node:readline';
import type { Fault, Piece } from './fault.ts';
import { type LinkPlace, MisbehavingMeter } from './misbehavingMeter.ts';

// Run as a process of its own: misbehaving meters, each on its own line. They are told what lies on their probes and what to
// do wrong by lines of JSON on standard input, each answered by one on standard output.

/** What a meter may be told; `open` begins with it, and is repeated after its line was pulled out and plugged in. */
export type Order =
  | { do: 'open'; place: LinkPlace }
  | { do: 'place'; piece: Piece }
  | { do: 'commit'; fault: Fault }
  | { do: 'behave' }
  | { do: 'close' };

export interface Told {
  id: number;
  meter: number;
  order: Order;
}

/** How a meter stands after it did what it was told. */
export interface Standing {
  address: string;
  /** Faults not committed yet. */
  pending: number;
  isAnother: boolean;
}

/** What is said back: that an order is done, or that the line of a meter is to be pulled out now. */
export type Saying = { id: number; standing: Standing } | { unplug: number };

const meters = new Map<number, MisbehavingMeter>();
const say = (saying: Saying) => process.stdout.write(`${JSON.stringify(saying)}\n`);

/** Half of the meters come up measuring resistance, so that the function alone does not show that power was off. */
const powerOnFunctionOf = (meter: number) => (Math.floor(meter / 4) % 2 === 0 ? 'VOLT:DC' : 'RES');

function meterOf(number: number): MisbehavingMeter {
  const known = meters.get(number);
  if (known) return known;
  const meter = new MisbehavingMeter(powerOnFunctionOf(number), () => say({ unplug: number }));
  meters.set(number, meter);
  return meter;
}

async function obey({ id, meter: number, order }: Told): Promise<void> {
  const meter = meterOf(number);
  if (order.do === 'open') await meter.open(order.place);
  else if (order.do === 'place') meter.place(order.piece);
  else if (order.do === 'commit') meter.commit(order.fault);
  else if (order.do === 'behave') meter.behave();
  else meter.close();
  say({ id, standing: { address: meter.address, pending: meter.pending, isAnother: meter.isAnother } });
  if (order.do === 'close') meters.delete(number);
}

createInterface({ input: process.stdin })
  .on('line', (text) => void obey(JSON.parse(text)))
  .on('close', () => process.exit());
