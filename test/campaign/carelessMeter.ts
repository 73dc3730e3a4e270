import { problem } from '../../core/problem/problem.ts';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import { readIdentity } from '../../instruments/meter/identity.ts';
import type { Meter, Reading } from '../../instruments/meter/meter.ts';
import { openTransport, readAddress } from '../../instruments/transport/address.ts';
import { Lines } from '../../instruments/transport/lines.ts';
import type { Connector } from './lane.ts';

const MILLISECONDS = 2000;

/**
 * The meter as a simple program has it: question out, next line in, on a time-out go on. No proof of step, no pairing, no
 * look at function and event status. It shows that the campaign finds what it is there to find.
 */
async function connect(address: string): Promise<Meter> {
  const where = readAddress(address);
  if (where.kind === 'sim') throw new Error('the simulated bench is not misbehaving');
  let take: ((line: string) => void) | null = null;
  let lose: ((why: string) => void) | null = null;
  const lines = new Lines(await openTransport(where), {
    line: (text) => take?.(text),
    overlong: () => undefined,
    lost: (why) => lose?.(why),
  });
  const ask = (question: string) =>
    new Promise<string>((resolve, reject) => {
      const timer = setTimeout(() => reject(problem('meter-silent', question, MILLISECONDS)), MILLISECONDS);
      take = (text) => {
        clearTimeout(timer);
        take = null;
        resolve(text);
      };
      lose = (why) => reject(problem('meter-lost', why));
      lines.write(question).catch(reject);
    });
  const read = async (): Promise<Reading> => {
    const said = await ask('READ?');
    const number = meterNumber(said);
    if (number?.kind === 'value') return { kind: 'value', ohms: number.text, raw: said, said };
    if (number?.kind === 'overload') return { kind: 'overload', raw: said, said };
    throw problem('answer-unreadable', 'READ?', said);
  };
  return {
    identity: readIdentity('careless'),
    dialect: 'scpi',
    measures: ['2-wire'],
    isSetByHand: false,
    askIdentity: async () => 'careless',
    hands: null,
    configure: async () => {
      for (const command of ['CONF:RES', 'RES:RANG 2E4', 'RES:NPLC 1']) await lines.write(command);
      return { function: '2-wire', range: 'fixed', rangeOhms: '100000', integrationCycles: '1' };
    },
    hasTrigger: false,
    read,
    glance: read,
    glanceOnAnyRange: read,
    awaitTrigger: () => Promise.reject(new Error('it has no trigger')),
    readOther: () => Promise.reject(new Error('it has one function')),
    close: () => lines.close(),
  };
}

export const careless: Connector = { connect, reconnect: connect };
