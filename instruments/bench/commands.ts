import { BENCH_MAKER, BENCH_MODEL } from '../../core/inspection/simulatedBench.ts';
import type { Acquired, Bench } from './bench.ts';
import { isForm, type Parameter, ScpiError } from './grammar.ts';
import {
  cyclesFor,
  INTEGRATION_CYCLES,
  LARGEST_RANGE_OHMS,
  OVERLOAD,
  RANGES_OHMS,
  type ResistanceFunction,
  rangeFor,
  resolution,
  USUAL_CYCLES,
  USUAL_RANGE_OHMS,
} from './meterModel.ts';

/** One thing the simulated meter understands. */
export interface Command {
  /** As `spellings` reads it; with a question mark for a query. */
  header: string;
  /** How many parameters it takes, at least and at most. */
  parameters: readonly [number, number];
  /** Does it. A query returns its answer. */
  run: (bench: Bench, parameters: Parameter[]) => string | undefined | Promise<string>;
}

const BENCH_VERSION = '1.0';
/** SCPI-1999 volume 2, 21.21: the version of the standard. */
const SCPI_VERSION = '1999.0';

const OHM_SUFFIXES: Record<string, number> = {
  '': 1,
  OHM: 1,
  KOHM: 1e3,
  // IEEE 488.2 table 7-2: with OHM the M means mega, not milli.
  MOHM: 1e6,
  MAOHM: 1e6,
  GOHM: 1e9,
};

/** SCPI numbers: a sign, one digit, decimals (eight where nothing is said), exponent of two digits. */
export function scpiNumber(value: number, decimals = 8): string {
  const [mantissa = '', exponent = ''] = Math.abs(value).toExponential(decimals).split('e');
  const sign = value < 0 ? '-' : '+';
  return `${sign}${mantissa}E${exponent.charAt(0)}${exponent.slice(1).padStart(2, '0')}`;
}

/** A reading with the digits the meter resolves and no more; infinity for overload. */
function readingText({ ohms, stepOhms }: Acquired): string {
  if (ohms === OVERLOAD) return scpiNumber(ohms);
  // Zero has no leading digit to count from: its decimals alone reach down to the last digit.
  const leading = ohms === 0 ? 1 : Math.abs(ohms);
  const digits = Math.floor(Math.log10(leading / stepOhms) + 1e-9);
  return scpiNumber(ohms, Math.max(0, Math.min(8, digits)));
}

interface Limits {
  minimum: number;
  maximum: number;
  usual: number;
}

/** A number or one of MINimum, MAXimum, DEFault (SCPI-1999 volume 1, 7.2.1.1 to 7.2.1.3). */
function numeric(parameter: Parameter, limits: Limits, suffixes: Record<string, number> = { '': 1 }): number {
  if (parameter.kind === 'word') return named(parameter, limits);
  if (parameter.kind === 'string') throw new ScpiError(-104, parameter.text);
  const multiplier = suffixes[parameter.suffix];
  if (multiplier === undefined) throw new ScpiError(-131, parameter.suffix);
  return parameter.value * multiplier;
}

function named(parameter: Parameter, limits: Limits): number {
  if (parameter.kind !== 'word') throw new ScpiError(-104);
  if (isForm('MINimum', parameter.text)) return limits.minimum;
  if (isForm('MAXimum', parameter.text)) return limits.maximum;
  if (isForm('DEFault', parameter.text)) return limits.usual;
  throw new ScpiError(-224, parameter.text);
}

const rangeLimits: Limits = { minimum: RANGES_OHMS[0] ?? 0, maximum: LARGEST_RANGE_OHMS, usual: USUAL_RANGE_OHMS };
const cycleLimits: Limits = {
  minimum: INTEGRATION_CYCLES[0] ?? 0,
  maximum: INTEGRATION_CYCLES.at(-1) ?? 0,
  usual: USUAL_CYCLES,
};
const registerLimits: Limits = { minimum: 0, maximum: 255, usual: 0 };

function range(parameter: Parameter): number {
  const ohms = numeric(parameter, rangeLimits, OHM_SUFFIXES);
  const found = ohms < 0 ? null : rangeFor(ohms);
  if (found === null) throw new ScpiError(-222, String(ohms));
  return found;
}

function register(parameter: Parameter | undefined): number {
  const value = Math.round(numeric(required(parameter), registerLimits));
  if (value < 0 || value > 255) throw new ScpiError(-222, String(value));
  return value;
}

function required(parameter: Parameter | undefined): Parameter {
  if (!parameter) throw new ScpiError(-109);
  return parameter;
}

const onOff = (value: boolean) => (value ? '1' : '0');

/** CONFigure and MEASure: usual settings, then the expected value and the resolution if they are given. */
function configure(bench: Bench, name: ResistanceFunction, [expected, finest]: Parameter[]): undefined {
  const wantsRange = expected && !(expected.kind === 'word' && isForm('DEFault', expected.text));
  const rangeOhms = wantsRange ? range(expected) : null;
  let cycles = USUAL_CYCLES;
  if (finest) {
    const full = rangeOhms ?? LARGEST_RANGE_OHMS;
    const steps: Limits = { minimum: resolution(100) * full, maximum: resolution(0.02) * full, usual: 1e-7 * full };
    const step = numeric(finest, steps, OHM_SUFFIXES);
    const found = INTEGRATION_CYCLES.find((known) => resolution(known) * full <= step * (1 + 1e-9));
    if (found === undefined) throw new ScpiError(-222, String(step));
    cycles = found;
  }
  bench.configure(name, rangeOhms, cycles);
}

function functionName(parameter: Parameter | undefined): ResistanceFunction {
  const { kind, text } = { text: '', ...required(parameter) };
  if (kind !== 'string') throw new ScpiError(-104);
  const name = text.trim().toUpperCase();
  if (isForm('RESistance', name)) return 'RES';
  if (isForm('FRESistance', name)) return 'FRES';
  throw new ScpiError(-224, text);
}

function place(parameter: Parameter | undefined): number | 'OPEN' | 'SHOR' {
  const where = required(parameter);
  if (where.kind === 'word') {
    if (where.text === 'OPEN') return 'OPEN';
    if (isForm('SHORt', where.text)) return 'SHOR';
    throw new ScpiError(-224, where.text);
  }
  if (where.kind === 'string') throw new ScpiError(-104, where.text);
  if (where.suffix !== '') throw new ScpiError(-131, where.suffix);
  if (!Number.isInteger(where.value) || where.value < 1 || where.value > 1e9) throw new ScpiError(-222);
  return where.value;
}

/** IEEE 488.2 10: common commands. */
const common: Command[] = [
  {
    header: '*IDN?',
    parameters: [0, 0],
    run: (b) => [BENCH_MAKER, BENCH_MODEL, b.scenario.seed, BENCH_VERSION].join(','),
  },
  { header: '*RST', parameters: [0, 0], run: (b) => b.reset() },
  { header: '*CLS', parameters: [0, 0], run: (b) => b.status.clear() },
  { header: '*ESE', parameters: [1, 1], run: (b, [mask]) => b.status.enableEvents(register(mask)) },
  { header: '*ESE?', parameters: [0, 0], run: (b) => String(b.status.eventEnable) },
  { header: '*ESR?', parameters: [0, 0], run: (b) => String(b.status.takeEvents()) },
  { header: '*SRE', parameters: [1, 1], run: (b, [mask]) => b.status.enableService(register(mask)) },
  { header: '*SRE?', parameters: [0, 0], run: (b) => String(b.status.serviceEnable) },
  { header: '*STB?', parameters: [0, 0], run: (b) => String(b.status.statusByte()) },
  // Every command here ends before the next begins, so these have nothing to wait for.
  { header: '*OPC', parameters: [0, 0], run: (b) => b.status.noteComplete() },
  { header: '*OPC?', parameters: [0, 0], run: () => '1' },
  { header: '*WAI', parameters: [0, 0], run: () => undefined },
  { header: '*TST?', parameters: [0, 0], run: () => '0' },
];

/** SCPI-1999 volume 2, 3 (measurement instructions), 18 (SENSe), per function. */
function resistance(name: ResistanceFunction, word: string): Command[] {
  const sense = `[SENSe:]${word}`;
  return [
    { header: `CONFigure:${word}`, parameters: [0, 2], run: (b, given) => configure(b, name, given) },
    {
      header: `MEASure[:SCALar]:${word}?`,
      parameters: [0, 2],
      run: async (b, given) => {
        configure(b, name, given);
        return readingText(await b.read());
      },
    },
    {
      header: `${sense}:RANGe[:UPPer]`,
      parameters: [1, 1],
      run: (b, [wanted]) => b.change(name, { rangeOhms: range(required(wanted)), auto: false }),
    },
    {
      header: `${sense}:RANGe[:UPPer]?`,
      parameters: [0, 1],
      run: (b, [which]) => scpiNumber(which ? named(which, rangeLimits) : b.settings[name].rangeOhms),
    },
    {
      header: `${sense}:RANGe:AUTO`,
      parameters: [1, 1],
      run: (b, [wanted]) => {
        const { text, value } = { text: '', value: null, ...required(wanted) };
        if (text === 'ONCE') b.change(name, { rangeOhms: b.autoRange(name), auto: false });
        else if (text === 'ON' || (value !== null && Math.round(value) !== 0)) b.change(name, { auto: true });
        else if (text === 'OFF' || value !== null) b.change(name, { auto: false });
        else throw new ScpiError(-224, text);
        return undefined;
      },
    },
    { header: `${sense}:RANGe:AUTO?`, parameters: [0, 0], run: (b) => onOff(b.settings[name].auto) },
    {
      header: `${sense}:NPLCycles`,
      parameters: [1, 1],
      run: (b, [wanted]) => {
        const cycles = numeric(required(wanted), cycleLimits);
        const found = cycles <= 0 ? null : cyclesFor(cycles);
        if (found === null) throw new ScpiError(-222, String(cycles));
        return b.change(name, { cycles: found });
      },
    },
    {
      header: `${sense}:NPLCycles?`,
      parameters: [0, 1],
      run: (b, [which]) => scpiNumber(which ? named(which, cycleLimits) : b.settings[name].cycles),
    },
  ];
}

const measurement: Command[] = [
  ...resistance('RES', 'RESistance'),
  ...resistance('FRES', 'FRESistance'),
  {
    header: 'CONFigure?',
    parameters: [0, 0],
    run: (b) => {
      const { rangeOhms, cycles } = b.settings[b.function];
      return `"${b.function} ${scpiNumber(rangeOhms)},${scpiNumber(resolution(cycles) * rangeOhms)}"`;
    },
  },
  { header: '[SENSe:]FUNCtion[:ON]', parameters: [1, 1], run: (b, [name]) => b.select(functionName(name)) },
  { header: '[SENSe:]FUNCtion[:ON]?', parameters: [0, 0], run: (b) => `"${b.function}"` },
  { header: 'READ?', parameters: [0, 0], run: async (b) => readingText(await b.read()) },
  {
    header: 'INITiate[:IMMediate]',
    parameters: [0, 0],
    run: async (b) => {
      await b.read();
      return '';
    },
  },
  { header: 'FETCh?', parameters: [0, 0], run: (b) => readingText(b.fetch()) },
  { header: 'ABORt', parameters: [0, 0], run: () => undefined },
];

/** SCPI-1999 volume 2, 21 (SYSTem); remote and local are common practice on serial lines. */
const system: Command[] = [
  { header: 'SYSTem:ERRor[:NEXT]?', parameters: [0, 0], run: (b) => b.status.takeError() },
  { header: 'SYSTem:ERRor:COUNt?', parameters: [0, 0], run: (b) => String(b.status.errorCount) },
  { header: 'SYSTem:VERSion?', parameters: [0, 0], run: () => SCPI_VERSION },
  { header: 'SYSTem:REMote', parameters: [0, 0], run: () => undefined },
  { header: 'SYSTem:RWLock', parameters: [0, 0], run: () => undefined },
  { header: 'SYSTem:LOCal', parameters: [0, 0], run: () => undefined },
];

/** The operator's hands, which no meter has. */
const hands: Command[] = [
  { header: 'BENCh:PLACe', parameters: [1, 1], run: (b, [where]) => b.place(place(where)) },
  { header: 'BENCh:PLACe?', parameters: [0, 0], run: (b) => String(b.placed) },
];

export const commands: readonly Command[] = [...common, ...measurement, ...system, ...hands];
