import { expect, it } from 'vitest';
import { prepareMeter, waysOf } from '../../instruments/meter/askedMeter.ts';
import { isAsked } from '../../instruments/meter/dialect.ts';
import { dialectNamed } from '../../instruments/meter/shippedDialects.ts';
import { Session } from '../../instruments/scpi/session.ts';
import { MeterWorks, pieceOf } from '../campaign/meterWorks.ts';
import { scriptedInstrument } from './scriptedInstrument.ts';

// Found by the fault campaign: reading the event status clears it (IEEE 488.2 10.12), so an answer that does not count may
// take the only word of power on with it. A meter that comes up measuring resistance shows it by nothing else.
it.each(['scpi', 'one-command'])(
  'a restart is noticed though the answer that told of it did not count (%s)',
  async (name) => {
    const dialect = dialectNamed(name);
    if (!isAsked(dialect)) throw new Error('not a dialect of questions');
    const works = new MeterWorks('RES');
    let garble = false;
    const { connection } = scriptedInstrument((message, send) => {
      const answer = works.answer(message);
      if (answer === null) return;
      const isStatus = message.includes('*ESR?');
      send(garble && isStatus ? `\u0000${answer}\n` : `${answer}\n`);
      if (isStatus) garble = false;
    });
    const session = new Session(connection, { random: Math.random, ways: waysOf(dialect), onLost: () => undefined });
    const meter = await prepareMeter(session, connection, dialect);
    await meter.configure({ function: '2-wire', range: { coversOhms: '20000' }, integrationCycles: 1 });
    works.piece = { number: 7, is: 'in range' };
    expect(pieceOf((await meter.read()).raw)).toEqual(works.piece);

    works.restart();
    garble = true;
    await expect(meter.read()).rejects.toMatchObject({ code: 'answer-garbled' });
    await expect(meter.read()).rejects.toMatchObject({ code: 'meter-restarted' });
    // Set anew, it is read with the integration time that was asked for; its reading would show another.
    expect(pieceOf((await meter.read()).raw)).toEqual(works.piece);
    await meter.close();
  },
);
