import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { type MannerName, readScenario } from '../../instruments/bench/scenario.ts';
import { handsAt, handsOverLine } from '../../instruments/meter/hands.ts';

function benchOf(manner: MannerName) {
  return new Bench(readScenario({ seed: 5, lot: { nominalOhms: 4700 }, meter: { pace: 'none', manner } }));
}

function handsByLine(bench: Bench) {
  return handsOverLine({
    tell: async (command) => void (await execute(bench, command)),
    ask: async (question) => String(await execute(bench, question)),
  });
}

describe('hands at a simulated bench', () => {
  it.each([
    ['over its line', 'plain', handsByLine],
    ['over a line of one command per message', 'one-command', handsByLine],
    ['of a meter that waits for remote control', 'needs-remote', handsByLine],
    ['of a meter that takes no commands', 'talker', handsAt],
  ] as const)('put the probes where a check wants them, %s', async (_way, manner, handsOf) => {
    const bench = benchOf(manner);
    const hands = handsOf(bench);
    await hands.place(12);
    expect(bench.placed).toBe(12);
    await hands.short();
    expect(bench.placed).toBe('SHOR');
    await hands.fixture();
    expect(bench.placed).toBe('FIXT');
    await hands.lift();
    expect(bench.placed).toBe('OPEN');
    // 100 ppm of 5 kΩ are 0.5 Ω.
    expect(await hands.reference()).toEqual({ ohms: '5000', uncertaintyOhms: '0.5' });
    expect(bench.placed).toBe('REF');
    expect(bench.status.errorCount).toBe(0);
  });

  it('say so when the probes are not where they should be, or the reference cannot be read', async () => {
    const answering = (answers: Record<string, string>) =>
      handsOverLine({ tell: async () => undefined, ask: async (question) => answers[question] ?? '' });
    await expect(answering({ 'BENC:PLAC?': 'OPEN' }).short()).rejects.toMatchObject({ code: 'setting-not-taken' });
    for (const written of ['5 kOhm', '+5.0E+03', '+5.0E+03,+5.0E-01,1', '+9.9E+37,+5.0E-01']) {
      const hands = answering({ 'BENC:PLAC?': 'REF', 'BENC:REF?': written });
      await expect(hands.reference()).rejects.toMatchObject({ code: 'answer-unreadable' });
    }
  });
});
