import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { readScenario } from '../../instruments/bench/scenario.ts';

const TEXT = readFileSync(join(import.meta.dirname, '../../instruments/bench/README.md'), 'utf8');
/** What stands in tables between backquotes and is a message of its own. */
const EXAMPLES = TEXT.split('\n')
  .filter((line) => line.startsWith('| `'))
  .flatMap((line) => [...(line.split('|')[1] ?? '').matchAll(/`([^`]+)`/g)].map(([, message]) => message ?? ''));

/** As it is sent: without brackets, and with what a command cannot do without. */
function sent(message: string): string {
  const whole = message.replace(/[[\]]/g, '');
  const needed: Record<string, string> = {
    '*ESE': '*ESE 1',
    '*SRE': '*SRE 1',
    '*PSC': '*PSC 1',
    'SENSe:FUNCtion:ON': 'FUNC "FRES"',
    'RES:RANGe': 'RES:RANG 1e4',
    'RES:RANGe:AUTO': 'RES:RANG:AUTO ON',
    'RES:NPLCycles': 'RES:NPLC 1',
    'TRIGger:SOURce': 'TRIG:SOUR IMM',
  };
  return needed[whole] ?? whole;
}

it('takes every message that its description for other programs has, and answers what is asked', async () => {
  const bench = new Bench(readScenario({ meter: { pace: 'none' } }));
  expect(EXAMPLES.length).toBeGreaterThan(45);
  for (const message of EXAMPLES) {
    const text = sent(message);
    if (text === 'FETCh?') await execute(bench, 'INIT');
    const answer = await execute(bench, text);
    expect(await execute(bench, 'SYST:ERR?'), text).toMatch(text === '*IDN?' ? /./ : /^(\+?0,|-350)/);
    if (text.includes('?')) expect(answer, text).not.toBeNull();
    await execute(bench, '*CLS;:BENC:FAUL NONE;:BENC:PLAC 3');
  }
});

it('has a description of every command that its usual meter knows', () => {
  const { manner } = new Bench(readScenario({}));
  const spoken = (header: string) => header.replace(/\[[^\]]*\]/g, '').replace(/\?$/, '');
  const described = EXAMPLES.map((message) => spoken(message.replace(/\s.*$/, ''))).concat(
    // Those of the other functions stand for each other, each with its queries.
    'RES:RANGe',
  );
  const functions = /(FRESistance|RESistance|CONTinuity|VOLTage|TEMPerature)/;
  const missing = manner.commands
    .map(({ header }) => spoken(header).replace(functions, 'RES'))
    .filter((header) => !described.includes(header));
  expect([...new Set(missing)]).toEqual([]);
});
