/**
 * What stands behind the question mark of a meter's address, and the value each has where the address says nothing. The
 * address is the one truth: a screen shows what it says and writes it anew, the station reads it.
 */
export const USUAL_SETTINGS = {
  baud: '9600',
  bits: '8',
  parity: 'none',
  stop: '1',
  flow: 'none',
  out: 'lf',
  in: 'any',
  echo: 'auto',
  delay: '0',
  longest: '',
  dialect: 'scpi',
} as const;

export type SettingName = keyof typeof USUAL_SETTINGS;

/** Settings that only a serial port has. */
export const SERIAL_SETTINGS = ['baud', 'bits', 'parity', 'stop', 'flow'] as const satisfies readonly SettingName[];

/** Where the meter is: the address without its settings. */
export function whereOf(address: string): string {
  return address.trim().split('?', 1)[0] ?? '';
}

/** What an address leads to, as far as its beginning tells. */
export function kindOf(address: string): 'sim' | 'tcp' | 'serial' | 'none' {
  const where = whereOf(address).toLowerCase();
  if (where === '') return 'none';
  if (where.startsWith('sim:')) return 'sim';
  return where.startsWith('tcp:') ? 'tcp' : 'serial';
}

function settingsOf(address: string): URLSearchParams {
  const written = address.trim();
  return new URLSearchParams(written.slice(whereOf(written).length + 1));
}

/** A setting as the address has it; the usual one where it says nothing. */
export function settingOf(address: string, name: SettingName): string {
  return settingsOf(address).getAll(name).at(-1) ?? USUAL_SETTINGS[name];
}

/** The address with one setting changed. One that is usual is left out; all others stay as they were written. */
export function withSetting(address: string, name: SettingName, value: string): string {
  const settings = settingsOf(address);
  settings.delete(name);
  if (value.trim() !== USUAL_SETTINGS[name]) settings.set(name, value.trim());
  const written = settings.toString();
  return written === '' ? whereOf(address) : `${whereOf(address)}?${written}`;
}
