import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { prepareMeter, waysOf } from '../../instruments/meter/askedMeter.ts';
import { isAsked } from '../../instruments/meter/dialect.ts';
import { dialectNamed } from '../../instruments/meter/shippedDialects.ts';
import { Session } from '../../instruments/scpi/session.ts';
import { scriptedInstrument } from './scriptedInstrument.ts';

/** What a meter answers to one command or question of a message: text, nothing (null), or what the bench says. */
export type Odd = (unit: string, bench: Bench) => string | null | undefined;

/** A meter on the simulated bench with a quirk of its own, spoken to in a dialect. */
export async function meterWith(
  odd: Odd,
  {
    scenario = {},
    dialect = 'scpi',
    serial = false,
  }: { scenario?: BenchScenarioInput; dialect?: string; serial?: boolean },
) {
  const bench = new Bench(readScenario(scenario));
  const words = dialectNamed(dialect);
  if (!isAsked(words)) throw new Error(`${dialect} is not asked`);
  /** Each command and question it was sent, without those that prove step. */
  const told: string[] = [];
  const { connection, heard } = scriptedInstrument(async (message, send) => {
    const fields: string[] = [];
    for (const unit of message.split(';').map((each) => each.replace(/^:/, ''))) {
      if (!unit.startsWith('*ESE')) told.push(unit);
      const own = odd(unit, bench);
      const field = own === undefined ? await execute(bench, unit) : own;
      if (field !== null) fields.push(field);
    }
    if (fields.length > 0) send(`${fields.join(';')}\r\n`);
  });
  const lost = Promise.withResolvers<string>();
  const session = new Session(connection, {
    random: Math.random,
    ways: waysOf(words),
    onLost: (why) => lost.resolve(why.code),
  });
  const meter = await prepareMeter(session, { serial, characterMilliseconds: 0 }, words);
  return { meter, bench, heard, told, lost: lost.promise };
}
