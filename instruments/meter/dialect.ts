import * as z from 'zod';
import { METER_FUNCTIONS } from '../../core/inspection/event.ts';
import { formFault } from './answerForm.ts';

export type MeterFunction = (typeof METER_FUNCTIONS)[number];

const LONGEST_TEXT = 200;
/** A register of fewer numbers would soon repeat one that may still be on its way. */
const FEWEST_NUMBERS = 31;
const LARGEST_POWER = 15;

/** As a message carries it: printable, no blank at either end, and no semicolon, which would begin another command. */
const command = z
  .string()
  .max(LONGEST_TEXT)
  .regex(/^[!-:<-~]([ -:<-~]*[!-:<-~])?$/, 'expected one command of printable ASCII characters, without a semicolon');

const commandWith = (placeholder: string) =>
  command.refine((text) => text.split(placeholder).length === 2, `expected ${placeholder} once, where the number goes`);

/** Units the meter sends, spelled as it sends them, and how many ohms, volts or degrees Celsius one of them is. */
const units = z
  .record(
    z.string().regex(/^[^\s\d.,;+-][^\s,;]{0,15}$/, 'expected a unit as the meter sends it, without blanks'),
    z.number().refine(isPowerOfTen, 'expected a power of ten, like 1, 1e3 or 1e-3'),
  )
  .default({});

const named = {
  /** What the meter answers when it is asked for its function; capitals and quotes make no difference. */
  names: z.array(z.string().regex(/^[!-~]+$/, 'expected a word without blanks')).default([]),
  /** Sent in this order to set the function. */
  configure: z.array(command).default([]),
  units,
};

const otherFunction = z.strictObject(named);

const resistanceFunction = z.strictObject({
  ...named,
  /** Null: the meter can't be told its range and chooses it itself. */
  range: z
    .strictObject({ set: commandWith('{ohms}'), ask: command, auto: command, isAuto: command })
    .nullable()
    .default(null),
  /** Integration time in cycles of the mains, where it can be set. */
  cycles: z
    .strictObject({ set: commandWith('{cycles}'), ask: command })
    .nullable()
    .default(null),
  /** Integration time as the meter's manual has it, where it can't be set. */
  fixedCycles: z.number().min(0.001).max(1000).nullable().default(null),
});

const answerForm = {
  pattern: z.string().max(LONGEST_TEXT),
  /** What the meter sends for overload in place of a number, besides ±9.9E37. */
  overload: z.array(z.string().regex(/^[!-~]+$/, 'expected a word without blanks')).default([]),
};

const shape = z.strictObject({
  name: z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/, 'expected small letters, digits and hyphens, at most 40'),
  title: z.string().min(1).max(LONGEST_TEXT),
  about: z.string().min(1).max(1000),
  commandsPerMessage: z.enum(['several', 'one']).default('several'),
  longestCommand: z.int().min(10).max(4096).nullable().default(null),
  delayMilliseconds: z.int().min(0).max(5000).default(0),
  remote: command.nullable().default(null),
  local: command.nullable().default(null),
  remoteOn: z.enum(['serial', 'always']).default('serial'),
  identity: command.nullable().default(null),
  clear: command.nullable().default(null),
  proof: z
    .strictObject({ set: commandWith('{number}'), ask: command, largest: z.int().min(FEWEST_NUMBERS).max(65_535) })
    .nullable()
    .default(null),
  events: command.nullable().default(null),
  errors: command.nullable().default(null),
  function: z.strictObject({ ask: command }).nullable().default(null),
  functions: z.strictObject({
    '2-wire': resistanceFunction.optional(),
    '4-wire': resistanceFunction.optional(),
    continuity: otherFunction.optional(),
    'dc-volts': otherFunction.optional(),
    temperature: otherFunction.optional(),
  }),
  reading: z
    .strictObject({ ask: command, ...answerForm })
    .nullable()
    .default(null),
  /** Null: the meter has no trigger of its own, or none that it can be told to wait for. */
  trigger: z
    .strictObject({
      /** Makes readings wait for the meter's own trigger, and begin at once again. */
      external: command,
      immediate: command,
      /** Begins to wait, and returns at once. */
      wait: command,
      /** Has the end of that noted in the event status. */
      note: command,
      /** Asks for the reading that was taken then. */
      ask: command,
      /** Waits no longer. */
      abandon: command,
    })
    .nullable()
    .default(null),
  talker: z.strictObject(answerForm).nullable().default(null),
});

type Shape = z.output<typeof shape>;

/** How one kind of meter is spoken to, as its file says; see instruments/dialects/README.md. */
export const dialectSchema = shape.superRefine((dialect, context) => {
  for (const { path, message } of [...faultsOfAll(dialect), ...faultsOfKind(dialect)]) {
    context.addIssue({ code: 'custom', path, message });
  }
});

export type Dialect = Shape;
/** A dialect of a meter that answers when it is asked. */
export type AskedDialect = Dialect & {
  [field in 'reading' | 'proof' | 'function']: NonNullable<Dialect[field]>;
};
/** A dialect of a meter that sends its readings unasked. */
export type TalkerDialect = Dialect & { talker: NonNullable<Dialect['talker']> };
export type FunctionWords = z.output<typeof otherFunction> & Partial<z.output<typeof resistanceFunction>>;
export type AnswerForm = NonNullable<Dialect['talker']>;

export function isTalker(dialect: Dialect): dialect is TalkerDialect {
  return dialect.talker !== null;
}

export function isAsked(dialect: Dialect): dialect is AskedDialect {
  return dialect.reading !== null && dialect.proof !== null && dialect.function !== null;
}

/** The functions a meter of this dialect has, the one for the job first. */
export function functionsOf(dialect: Dialect): MeterFunction[] {
  return METER_FUNCTIONS.filter((name) => dialect.functions[name] !== undefined);
}

interface Fault {
  path: (string | number)[];
  message: string;
}

function isPowerOfTen(value: number): boolean {
  const [mantissa, power] = value.toExponential().split('e');
  return mantissa === '1' && Math.abs(Number(power)) <= LARGEST_POWER;
}

function faultsOfAll(dialect: Dialect): Fault[] {
  const faults: Fault[] = [];
  const where = dialect.talker ? 'talker' : 'reading';
  const form = dialect.talker ?? dialect.reading;
  const fault = form && formFault(form);
  if (fault) faults.push({ path: [where, fault.field], message: fault.message });
  if (!dialect.functions['2-wire'] && !dialect.functions['4-wire']) {
    faults.push({
      path: ['functions'],
      message: 'neither 2-wire nor 4-wire is here, so the meter reads no resistance',
    });
  }
  const hasUnit = form?.pattern.includes('{unit}') ?? false;
  const names = new Map<string, MeterFunction>();
  for (const name of functionsOf(dialect)) {
    const words: FunctionWords | undefined = dialect.functions[name];
    if (!words) continue;
    const known = Object.keys(words.units).length;
    const path = ['functions', name, 'units'];
    if (hasUnit && known === 0) faults.push({ path, message: 'the pattern has a {unit}, so the units must be listed' });
    if (!hasUnit && known > 0) faults.push({ path, message: 'the pattern has no {unit}, so no unit is ever read' });
    for (const word of words.names.map(functionWord)) {
      const other = names.get(word);
      if (other && other !== name) {
        faults.push({ path: ['functions', name, 'names'], message: `"${word}" is the name of ${other} already` });
      }
      names.set(word, name);
    }
  }
  return [...faults, ...faultsOfUnits(dialect)];
}

/** Where one unit belongs to two kinds of quantity, it could not show that the function is another one. */
function faultsOfUnits(dialect: Dialect): Fault[] {
  const faults: Fault[] = [];
  const kinds = new Map<string, string>();
  for (const name of functionsOf(dialect)) {
    const words: FunctionWords | undefined = dialect.functions[name];
    // By its unit alone a talker must tell each of its functions; others are asked for their function as well.
    const kind = dialect.talker || name === 'dc-volts' || name === 'temperature' ? name : 'resistance';
    for (const unit of Object.keys(words?.units ?? {})) {
      const other = kinds.get(unit);
      if (other && other !== kind) {
        faults.push({ path: ['functions', name, 'units', unit], message: `this unit belongs to ${other} already` });
      }
      kinds.set(unit, kind);
    }
  }
  return faults;
}

/** A talker is told nothing; any other meter must be able to show what it is set to and that it is in step. */
function faultsOfKind(dialect: Dialect): Fault[] {
  if (dialect.talker) {
    const toldFields = [
      'remote',
      'local',
      'identity',
      'clear',
      'proof',
      'events',
      'errors',
      'function',
      'reading',
      'trigger',
    ] as const;
    const told: Fault[] = toldFields
      .filter((field) => dialect[field] !== null)
      .map((field) => ({ path: [field], message: 'a talker is told and asked nothing: leave this out' }));
    if (!dialect.talker.pattern.includes('{unit}')) {
      told.push({
        path: ['talker', 'pattern'],
        message: 'expected {unit}: by it alone the function of a talker shows',
      });
    }
    return [...told, ...faultsOfIntegration(dialect), ...faultsOfTalkerFunctions(dialect)];
  }
  const needed = ['reading', 'proof', 'function'] as const;
  return [
    ...needed
      .filter((field) => dialect[field] === null)
      .map((field) => ({ path: [field], message: 'this must be given for a meter that is asked' })),
    ...functionsOf(dialect).flatMap((name) => {
      const words = dialect.functions[name];
      return (['names', 'configure'] as const)
        .filter((field) => words?.[field].length === 0)
        .map((field) => ({ path: ['functions', name, field], message: 'at least one must be given' }));
    }),
    ...(dialect.trigger !== null && dialect.events === null
      ? [{ path: ['trigger'], message: 'without "events" nobody could tell that the trigger came' }]
      : []),
    ...faultsOfIntegration(dialect),
    ...faultsOfLength(dialect),
  ];
}

function faultsOfTalkerFunctions(dialect: Dialect): Fault[] {
  return (['2-wire', '4-wire'] as const).flatMap((name) =>
    (['range', 'cycles'] as const)
      .filter((field) => (dialect.functions[name]?.[field] ?? null) !== null)
      .map((field) => ({ path: ['functions', name, field], message: 'a talker is told nothing: leave this out' })),
  );
}

function faultsOfIntegration(dialect: Dialect): Fault[] {
  return (['2-wire', '4-wire'] as const).flatMap((name) => {
    const words = dialect.functions[name];
    if (!words || (words.cycles === null) !== (words.fixedCycles === null)) return [];
    return [{ path: ['functions', name], message: 'either "cycles" or "fixedCycles" must be given, not both' }];
  });
}

/** Room for the longest number that stands in for a placeholder, like `-1.2345678E+08`. */
const NUMBER_ROOM = 14;

function faultsOfLength(dialect: Dialect): Fault[] {
  const longest = dialect.longestCommand;
  if (longest === null) return [];
  const faults: Fault[] = [];
  const look = (value: unknown, path: (string | number)[]): void => {
    if (typeof value === 'string') {
      const length = value.replace(/\{\w+\}/, ' '.repeat(NUMBER_ROOM)).length;
      if (length > longest) faults.push({ path, message: `longer than the ${longest} bytes of "longestCommand"` });
    } else if (Array.isArray(value)) {
      value.forEach((each, index) => {
        look(each, [...path, index]);
      });
    } else if (typeof value === 'object' && value !== null) {
      for (const [field, each] of Object.entries(value)) {
        if (!['names', 'units', 'pattern', 'overload'].includes(field)) look(each, [...path, field]);
      }
    }
  };
  const { remote, local, identity, clear, proof, events, errors, functions, reading, trigger } = dialect;
  look(
    { remote, local, identity, clear, proof, events, errors, function: dialect.function, functions, reading, trigger },
    [],
  );
  return faults;
}

/** A function's name as meters answer it, without quotes and in capitals, so that spellings compare. */
export function functionWord(answer: string): string {
  return answer
    .trim()
    .replace(/^(["'])(.*)\1$/, '$2')
    .trim()
    .toUpperCase();
}
