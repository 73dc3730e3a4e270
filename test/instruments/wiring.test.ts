import { describe, expect, it } from 'vitest';
import { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { type BenchScenarioInput, readScenario } from '../../instruments/bench/scenario.ts';
import { pairPlace, terminalsOf, type WiringInput, wiringOhms, wiringSchema } from '../../instruments/bench/wiring.ts';

const WIRES: WiringInput['wires'] = [
  { from: 'A1', to: 'B1', ohms: 0.1 },
  { from: 'A2', to: 'B2', ohms: 0.2 },
  { from: 'L1', to: 'T1', ohms: 0.3, state: 'Q1 on' },
];
const between = (from: string, to: string, faults: WiringInput['faults'] = [], state = '') =>
  wiringOhms(wiringSchema.parse({ wires: WIRES, faults }), [from, to], state);

describe('a wiring', () => {
  it('conducts as its wires do, and not where nothing leads', () => {
    expect(between('A1', 'B1')).toBeCloseTo(0.1, 12);
    expect(between('A1', 'B2')).toBeNull();
    expect(between('A1', 'nowhere')).toBeNull();
  });

  it('conducts through a switch only as it stands', () => {
    expect(between('L1', 'T1')).toBeNull();
    expect(between('L1', 'T1', [], 'Q1 off')).toBeNull();
    expect(between('L1', 'T1', [], 'Q1 on')).toBeCloseTo(0.3, 12);
  });

  it('has the faults that are planted', () => {
    expect(between('A1', 'B1', [{ kind: 'broken', wire: 1 }])).toBeNull();
    expect(between('A1', 'B1', [{ kind: 'resistive', wire: 1, ohms: 40 }])).toBeCloseTo(40.1, 9);
    const swapped: WiringInput['faults'] = [{ kind: 'swapped', wires: [1, 2] }];
    expect([between('A1', 'B1', swapped), between('A1', 'B2', swapped)]).toEqual([null, 0.1]);
    // In series by Ohm's law: 0.1 + 0.05 + 0.2.
    expect(between('A1', 'A2', [{ kind: 'crossed', from: 'B1', to: 'B2', ohms: 0.05 }])).toBeCloseTo(0.35, 12);
    // Two ways in parallel: 0.1 and 0.3 are 0.075.
    expect(between('A1', 'B1', [{ kind: 'crossed', from: 'A1', to: 'B1', ohms: 0.3 }])).toBeCloseTo(0.075, 12);
  });

  it('names no wire that is not there', () => {
    expect(wiringSchema.safeParse({ wires: WIRES, faults: [{ kind: 'broken', wire: 4 }] }).success).toBe(false);
  });

  it('is found again by whatever a terminal is called', () => {
    for (const [from, to] of [
      ['A1', 'B1'],
      ['X1:12', 'PE +'],
      ['Ω "a", ;b', "it's 100%"],
      ['ä', '地'],
    ] as const) {
      const place = pairPlace(from, to);
      expect(place).toMatch(/^[\x20-\x7e]+$/);
      expect(place).not.toContain(';');
      expect(terminalsOf(place)).toEqual([from, to]);
    }
  });
});

describe('the probes on two terminals', () => {
  const scenario: BenchScenarioInput = {
    leadOhms: 0.08,
    contactSpreadOhms: 0,
    meter: { pace: 'none' },
    wiring: { wires: WIRES },
  };
  const asked = async (bench: Bench, ...messages: string[]) => {
    let answer: string | null = null;
    for (const message of messages) answer = await execute(bench, message);
    return answer;
  };

  it('are read through the leads, like a piece', async () => {
    const bench = new Bench(readScenario(scenario));
    expect(await asked(bench, 'BENC:PLAC "A1","B1"', 'BENC:PLAC?')).toBe('"A1","B1"');
    expect(Number(await asked(bench, 'MEAS:RES?'))).toBeCloseTo(0.18, 2);
    expect(Number(await asked(bench, 'BENC:PLAC "A1","B2"', 'MEAS:RES?'))).toBe(9.9e37);
    expect(Number(await asked(bench, 'BENC:PLAC "L1","T1"', 'BENC:STAT "Q1 on"', 'MEAS:RES?'))).toBeCloseTo(0.38, 2);
    expect(await asked(bench, 'BENC:STAT?')).toBe('"Q1 on"');
  });

  it('bring a voltage to the meter, and a broken lead brings nothing', async () => {
    const bench = new Bench(readScenario({ ...scenario, fixtureVolts: 5 }));
    expect(Number(await asked(bench, 'BENC:PLAC "A1","B1"', 'MEAS:VOLT?'))).toBeCloseTo(5, 3);
    expect(Number(await asked(bench, 'BENC:FAUL VOLT,0', 'BENC:FAUL LEAD,BROK', 'MEAS:RES?'))).toBe(9.9e37);
  });

  it.each([
    'BENC:PLAC "A1"',
    'BENC:PLAC "A1",3',
    'BENC:PLAC 3,4',
    'BENC:STAT Q1',
    'BENC:HAND PAIR',
    'BENC:HAND:NEXT 3,4',
  ])('are not put anywhere by %s', async (message) => {
    const bench = new Bench(readScenario(scenario));
    await asked(bench, message);
    expect(await asked(bench, 'SYST:ERR?')).toMatch(/^-(104|108|109)/);
  });
});
