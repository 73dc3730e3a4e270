import type { Bench } from '../bench.ts';
import { FUNCTIONS, type FunctionName, INTEGRATION_CYCLES, largestRange, resolution } from '../functions.ts';
import { isForm, type Parameter, ScpiError } from '../grammar.ts';
import { scpiNumber } from '../scpiNumber.ts';
import type { TriggerSource } from '../trigger.ts';
import type { Command } from './command.ts';
import {
  cycleLimits,
  cycles,
  functionName,
  type Limits,
  named,
  oneOf,
  onOff,
  quantity,
  range,
  rangeLimits,
  required,
} from './parameters.ts';

const SOURCES = { IMMediate: 'IMM', EXTernal: 'EXT' } as const satisfies Record<string, TriggerSource>;

/** CONFigure and MEASure: usual settings, then the expected value and the resolution if they are given. */
function configure(bench: Bench, name: FunctionName, [expected, finest]: Parameter[]): undefined {
  const wantsRange = expected && !(expected.kind === 'word' && isForm('DEFault', expected.text));
  const fullScale = wantsRange ? range(expected, name) : null;
  bench.configure(name, fullScale, finest ? cyclesThatResolve(finest, name, fullScale) : null);
}

function cyclesThatResolve(finest: Parameter, name: FunctionName, fullScale: number | null): number {
  const full = fullScale ?? largestRange(name);
  const steps: Limits = { minimum: resolution(100) * full, maximum: resolution(0.02) * full, usual: 1e-7 * full };
  const step = quantity(finest, name, steps);
  const found = INTEGRATION_CYCLES.find((known) => resolution(known) * full <= step * (1 + 1e-9));
  if (found === undefined) throw new ScpiError(-222, String(step));
  return found;
}

/** Takes a reading and writes it in the meter's manner. */
export async function reading(bench: Bench): Promise<string> {
  return bench.manner.readingText(await bench.acquire());
}

/** SCPI-1999 volume 2, 3 (measurement instructions), per function. */
function instructions(name: FunctionName): Command[] {
  const { word, ranged } = FUNCTIONS[name];
  const parameters = [0, ranged ? 2 : 0] as const;
  return [
    { header: `CONFigure:${word}`, parameters, needs: name, run: (b, given) => configure(b, name, given) },
    {
      header: `MEASure[:SCALar]:${word}?`,
      parameters,
      needs: name,
      run: (b, given) => {
        configure(b, name, given);
        return reading(b);
      },
    },
  ];
}

/** SCPI-1999 volume 2, 18 (SENSe), of a function with several ranges. */
function ranges(name: FunctionName): Command[] {
  const header = `[SENSe:]${FUNCTIONS[name].word}:RANGe`;
  return [
    {
      header: `${header}[:UPPer]`,
      parameters: [1, 1],
      needs: name,
      run: (b, [wanted]) => b.change(name, { range: range(required(wanted), name), auto: false }),
    },
    {
      header: `${header}[:UPPer]?`,
      parameters: [0, 1],
      needs: name,
      run: (b, [which]) => scpiNumber(which ? named(which, rangeLimits(name)) : b.settings[name].range),
    },
    {
      header: `${header}:AUTO`,
      parameters: [1, 1],
      needs: name,
      run: (b, [wanted]) => {
        if (wanted?.kind === 'word' && wanted.text === 'ONCE') {
          return b.change(name, { range: b.autoRange(name), auto: false });
        }
        return b.change(name, { auto: onOff(wanted) });
      },
    },
    {
      header: `${header}:AUTO?`,
      parameters: [0, 0],
      needs: name,
      run: (b) => (b.settings[name].auto ? '1' : '0'),
    },
  ];
}

function integration(name: FunctionName): Command[] {
  const header = `[SENSe:]${FUNCTIONS[name].word}:NPLCycles`;
  return [
    {
      header,
      parameters: [1, 1],
      needs: name,
      run: (b, [wanted]) => b.change(name, { cycles: cycles(required(wanted)) }),
    },
    {
      header: `${header}?`,
      parameters: [0, 1],
      needs: name,
      run: (b, [which]) => scpiNumber(which ? named(which, cycleLimits) : b.settings[name].cycles),
    },
  ];
}

/** SCPI-1999 volume 2, 3 (measurement instructions), 18 (SENSe), 24 (TRIGger). */
export const measurement: readonly Command[] = [
  ...(Object.keys(FUNCTIONS) as FunctionName[]).flatMap(instructions),
  ...(['RES', 'FRES', 'VOLT'] as const).flatMap(ranges),
  ...(['RES', 'FRES', 'VOLT', 'TEMP'] as const).flatMap(integration),
  { header: 'READ?', parameters: [0, 0], run: reading },
  {
    header: 'INITiate[:IMMediate]',
    parameters: [0, 0],
    run: async (b) => {
      if (b.trigger.source === 'EXT') b.initiate();
      else await b.read();
      return '';
    },
  },
  { header: 'FETCh?', parameters: [0, 0], run: async (b) => b.manner.readingText(await b.fetch()) },
  { header: 'ABORt', parameters: [0, 0], run: (b) => b.trigger.end() },
  {
    header: 'TRIGger:SOURce',
    parameters: [1, 1],
    run: (b, [source]) => {
      b.trigger.source = SOURCES[oneOf(source, Object.keys(SOURCES) as (keyof typeof SOURCES)[])];
      return undefined;
    },
  },
  { header: 'TRIGger:SOURce?', parameters: [0, 0], run: (b) => b.trigger.source },
  {
    header: 'CONFigure?',
    parameters: [0, 0],
    run: (b) => {
      const { range: fullScale, cycles: integrated } = b.settings[b.function];
      if (!FUNCTIONS[b.function].ranged) return `"${b.function}"`;
      return `"${b.function} ${scpiNumber(fullScale)},${scpiNumber(resolution(integrated) * fullScale)}"`;
    },
  },
  { header: '[SENSe:]FUNCtion[:ON]', parameters: [1, 1], run: (b, [name]) => b.select(functionName(name)) },
  { header: '[SENSe:]FUNCtion[:ON]?', parameters: [0, 0], run: (b) => `"${b.function}"` },
];
