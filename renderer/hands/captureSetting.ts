import { type CaptureOverrides, captureOverrides } from '../../core/contract/live.ts';
import { remember, remembered } from '../theme/remembered.ts';

/** What somebody set otherwise for captures at this computer; nothing where nobody did. */
export function chosenOverrides(): CaptureOverrides {
  try {
    return captureOverrides.parse(JSON.parse(remembered('capture-setting') ?? '{}'));
  } catch {
    // What an older version remembered is not worth a word; every parameter follows the run again.
    return {};
  }
}

/** Remembers what was set otherwise. */
export function rememberOverrides(overrides: CaptureOverrides): void {
  remember('capture-setting', JSON.stringify(overrides));
}

/** A parameter that can be set: its label, what it is while nobody sets it, and between what it can be set. */
export const PARAMETERS = [
  { name: 'settledReadings', label: 'Readings that must agree', usual: 'as the run needs', lowest: 3, highest: 20 },
  {
    name: 'bandPercent',
    label: 'How closely, in % of the tolerance',
    usual: 'follows window, noise and last digit',
    lowest: 0.01,
    highest: 50,
  },
  {
    name: 'releaseMilliseconds',
    label: 'Open before the next piece, in ms',
    usual: 'as above',
    lowest: 100,
    highest: 5000,
  },
  {
    name: 'openDwellMilliseconds',
    label: 'An open piece is held for, in ms',
    usual: 'as above',
    lowest: 500,
    highest: 10_000,
  },
] as const;

export type ParameterName = (typeof PARAMETERS)[number]['name'];
export type ParameterTexts = Record<ParameterName, string>;

/** What was set, as it is written into the fields. */
export function parameterTexts(overrides: CaptureOverrides): ParameterTexts {
  const text = (name: ParameterName) => (overrides[name] === undefined ? '' : String(overrides[name]));
  return {
    settledReadings: text('settledReadings'),
    bandPercent: text('bandPercent'),
    releaseMilliseconds: text('releaseMilliseconds'),
    openDwellMilliseconds: text('openDwellMilliseconds'),
  };
}

/** What the fields ask for, and which of them say nothing that can be taken. An empty field sets nothing. */
export function readParameters(texts: ParameterTexts): { overrides: CaptureOverrides; wrong: ParameterName[] } {
  const written = PARAMETERS.map(({ name }) => [name, texts[name].trim().replace(',', '.')] as const).filter(
    ([, text]) => text !== '',
  );
  const wrong = written
    .filter(([name, text]) => !/^[\d.]+$/.test(text) || !captureOverrides.safeParse({ [name]: Number(text) }).success)
    .map(([name]) => name);
  const good = written.filter(([name]) => !wrong.includes(name));
  return { overrides: Object.fromEntries(good.map(([name, text]) => [name, Number(text)])), wrong };
}
