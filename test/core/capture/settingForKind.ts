import {
  type CaptureChoice,
  type CaptureSetting,
  type RunForCapture,
  settingFor,
} from '../../../core/capture/setting.ts';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import { decadeAbove, noiseOhms } from './circuit.ts';
import { Dice } from './dice.ts';
import type { Kind } from './kinds.ts';

const READINGS_OF_REFERENCE = 5;
const LEADS_OHMS = '0.08';

/** What of a run a kind of job makes: its window, its meter, and a reference that was read five times. */
export function runOfKind(kind: Kind, seed = 1, readings = READINGS_OF_REFERENCE): RunForCapture {
  const { nominalOhms, toleranceOhms, meter, referenceInFixture } = kind;
  const reference = Math.max(nominalOhms, 0.05);
  const deviation = Math.hypot(noiseOhms(meter, reference), referenceInFixture ? 0 : meter.handOhms);
  const dice = new Dice(seed);
  const read = Array.from({ length: readings }, () => reference + dice.normal(deviation));
  const mean = read.reduce((sum, ohms) => sum + ohms, 0) / read.length;
  const squares = read.reduce((sum, ohms) => sum + (ohms - mean) ** 2, 0);
  const resolutionOhms = decimal((meter.rangeOhms ?? decadeAbove(reference)) * 1e-6);
  return {
    window: {
      nominal: decimal(nominalOhms),
      lower: decimal(nominalOhms - toleranceOhms),
      upper: decimal(nominalOhms + toleranceOhms),
    },
    meter: meterOf(meter.rangeOhms),
    scatter: { squares, degreesOfFreedom: read.length - 1, atOhms: decimal(reference) },
    reference: {
      afterReading: 0,
      at: '2026-01-05T08:00:00.000Z',
      name: 'R',
      ohms: decimal(reference),
      uncertaintyOhms: '0',
      measuredOhms: read.map(decimal),
      resolutionOhms,
      passed: true,
      en: null,
    },
    shortedOhms: LEADS_OHMS,
  };
}

/** The default setting for a kind of job. */
export function settingForKind(kind: Kind, choice: CaptureChoice = {}, seed = 1, readings?: number): CaptureSetting {
  return settingFor(runOfKind(kind, seed, readings), choice, 1000 / kind.meter.readingsPerSecond);
}

function decimal(ohms: number): string {
  return ohms.toFixed(9);
}

function meterOf(rangeOhms: number | null): MeterFacts {
  return {
    address: 'sim:',
    identity: { maker: '', model: '', serial: '', firmware: '', text: '', simulated: true },
    setting: {
      function: '2-wire',
      range: rangeOhms === null ? 'auto' : 'fixed',
      rangeOhms: rangeOhms === null ? null : String(rangeOhms),
      integrationCycles: '0.2',
    },
    dialect: 'scpi',
    setByHand: false,
    measures: ['2-wire'],
    data: null,
  };
}
