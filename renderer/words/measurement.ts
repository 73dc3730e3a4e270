import type { LotFacts, MeterFacts } from '../../core/inspection/event.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';

/** Below this nominal value the resistance of ordinary test leads, some tenths of an ohm, counts in 2-wire. Common practice. */
const LOW_OHMS = 100;

/** Integration times that are offered, in cycles of the mains. */
export const INTEGRATION_CYCLES = ['0.02', '0.2', '1', '10', '100'] as const;

const cycles = (count: string) => `${count}\u00a0mains ${count === '1' ? 'cycle' : 'cycles'}`;

/** What the lot's measurement asks for, in words. */
export function measurementWords(measurement: LotFacts['measurement']): string {
  const range = measurement.range === 'window' ? 'range fixed to the window' : 'range chosen by the meter';
  return `${measurement.method}, ${range}, ${cycles(measurement.integrationCycles)}`;
}

/** The settings as the meter reports them, in words. */
export function settingWords(setting: MeterFacts['setting']): string {
  const range =
    setting.range === 'auto'
      ? 'range chosen by the meter'
      : `range\u00a0${setting.rangeOhms === null ? 'fixed' : formatOhms(setting.rangeOhms).replace(' ', '\u00a0')}`;
  return `${setting.function}, ${range}, ${cycles(setting.integrationCycles)}`;
}

/** Who the meter says it is. */
export function identityWords(identity: MeterFacts['identity']): string {
  return [identity.maker, identity.model].filter((part) => part !== '').join(' ') || identity.text;
}

/** Whether the resistance of the leads counts here: 2-wire and a low window. Gives the ohms it is judged by, else null. */
export function leadsCount(measurement: Pick<LotFacts['measurement'], 'method'>, window: LotFacts['window']): boolean {
  const about = window.nominal ?? window.upper ?? window.lower;
  return measurement.method === '2-wire' && about !== null && Number(about) < LOW_OHMS;
}
