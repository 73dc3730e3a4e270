import type { Bench } from '../bench.ts';
import { type Conditions, HEALTHY } from '../conditions.ts';
import { errorTexts, type Parameter, ScpiError } from '../grammar.ts';
import { CONDITION_LIMITS } from '../scenario.ts';
import { scpiNumber } from '../scpiNumber.ts';
import type { Command } from './command.ts';
import { oneOf, plainNumber, required } from './parameters.ts';

type Amount = keyof typeof CONDITION_LIMITS;

const LEADS = { GOOD: 'good', BROKen: 'broken', POOR: 'poor', UNSTeady: 'unsteady', SHORted: 'shorted' } as const;
const SENSE = { GOOD: false, OPEN: true } as const;

const words = <T extends string>(named: Record<T, unknown>) => Object.keys(named) as T[];

interface Fault {
  set: (bench: Bench, value: Parameter | undefined) => void;
  ask: (conditions: Conditions) => string;
}

function amount(name: Amount): Fault {
  return {
    set: ({ conditions }, value) => {
      const number = plainNumber(required(value));
      if (!CONDITION_LIMITS[name].safeParse(number).success) throw new ScpiError(-222, String(number));
      conditions[name] = number;
    },
    ask: (conditions) => scpiNumber(conditions[name]),
  };
}

const conditionFaults = {
  LEADs: {
    set: ({ conditions }, value) => {
      conditions.leads = LEADS[oneOf(value, words(LEADS))];
    },
    ask: ({ leads }) => leads.slice(0, 4).toUpperCase(),
  },
  SENSe: {
    set: ({ conditions }, value) => {
      conditions.senseOpen = SENSE[oneOf(value, words(SENSE))];
    },
    ask: ({ senseOpen }) => (senseOpen ? 'OPEN' : 'GOOD'),
  },
  VOLTs: amount('fixtureVolts'),
  GAIN: amount('gainErrorPpm'),
  DRIFt: amount('driftPpmPerReading'),
  AMBient: amount('ambientCelsius'),
  CONTacts: amount('contactSpreadOhms'),
} as const satisfies Record<string, Fault>;

/** An error in the queue that no command of the station made. */
function plantError(bench: Bench, value: Parameter | undefined): void {
  const number = plainNumber(required(value));
  if (!(number in errorTexts)) throw new ScpiError(-224, String(number));
  bench.status.note(new ScpiError(number as keyof typeof errorTexts));
}

/**
 * What goes wrong while the bench runs, which no meter has commands for:
 *
 *     BENCh:FAULt LEADs,GOOD|BROKen|POOR|UNSTeady|SHORted    BENCh:FAULt SENSe,GOOD|OPEN
 *     BENCh:FAULt VOLTs,<volts across the fixture>           BENCh:FAULt GAIN,<ppm>
 *     BENCh:FAULt DRIFt,<ppm per reading>                    BENCh:FAULt AMBient,<celsius>
 *     BENCh:FAULt CONTacts,<ohms they scatter by>            BENCh:FAULt ERRor,<number in the error queue>
 *     BENCh:FAULt NONE
 *
 * `NONE` makes all of it good again. `BENCh:FAULt? LEADs` and so on answers how it is.
 */
export const faults: readonly Command[] = [
  {
    header: 'BENCh:FAULt',
    parameters: [1, 2],
    run: (b, [which, value]) => {
      const name = oneOf(which, [...words(conditionFaults), 'ERRor', 'NONE'] as const);
      if (name === 'NONE' && value) throw new ScpiError(-108);
      if (name === 'NONE') Object.assign(b.conditions, HEALTHY);
      else if (name === 'ERRor') plantError(b, value);
      else conditionFaults[name].set(b, value);
      return undefined;
    },
  },
  {
    header: 'BENCh:FAULt?',
    parameters: [1, 1],
    run: (b, [which]) => conditionFaults[oneOf(which, words(conditionFaults))].ask(b.conditions),
  },
];
