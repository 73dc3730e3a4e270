import type { Reading, Run } from '../../core/inspection/run.ts';
import type { AtTheBench } from '../../core/inspection/worth.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { rangeInUse } from '../../core/readiness/rangeInUse.ts';
import { selfHeating } from '../../core/uncertainty/selfHeating.ts';
import type { FigureRow } from '../figureRows/figureRows.tsx';
import { figureText } from '../words/figures.ts';
import { readingText } from '../words/ohms.ts';

const shown = (ohms: string) => formatOhms(ohms).replace(' ', '\u00a0');

/**
 * How the value that was judged comes from what the meter said: zero, temperature; and whether the reading warmed the piece.
 * @param bench as it was at the reading; null while it is not known
 */
export function valueRows(run: Run, reading: Reading, bench: AtTheBench | null): FigureRow[] {
  return [
    { name: 'The meter said', value: reading.raw.trim() },
    zeroRow(run, reading),
    ambientRow(run, bench),
    correctionRow(run, reading),
    { name: 'Value that was judged', value: readingText(reading, run.window) },
    heatRow(run, reading, bench),
  ];
}

function zeroRow({ measurement: { method } }: Run, { zeroOhms }: Reading): FigureRow {
  if (method === '4-wire') return { name: 'Zero', value: 'none', words: '4-wire: leads are not in the reading' };
  return { name: 'Zero', value: `${shown(zeroOhms)} subtracted`, words: 'the shorted leads, as last checked before' };
}

function ambientRow({ temperature: { referenceCelsius } }: Run, bench: AtTheBench | null): FigureRow {
  const name = 'Temperature';
  const wanted = `the value is wanted at ${referenceCelsius}\u00a0°C`;
  const ambient = bench?.ambientCelsius ?? null;
  if (ambient === null) return { name, words: `that of the room is not known; ${wanted}` };
  return { name, value: `${ambient}\u00a0°C`, words: `in the room; ${wanted}` };
}

function correctionRow({ temperature }: Run, { temperatureOhms }: Reading): FigureRow {
  const name = 'Brought to that temperature';
  const { coefficient, referenceCelsius } = temperature;
  switch (coefficient.kind) {
    case 'unknown':
      return {
        name,
        value: 'no',
        words: 'how the part moves with temperature is not known: this is the value at the temperature of the room',
      };
    case 'limit':
      return {
        name,
        value: 'no',
        words: `the coefficient is only known to be within ±${coefficient.ppmPerKelvin}\u00a0ppm/K: that widens U and corrects nothing`,
        source: 'IEC 60115-1; JCGM 100:2008, 4.3.7',
      };
    case 'known':
      return {
        name,
        value: `${Number(temperatureOhms) > 0 ? '+' : ''}${shown(temperatureOhms).replace('-', '−')}`,
        words: `to ${referenceCelsius}\u00a0°C by ${coefficient.ppmPerKelvin}\u00a0±\u00a0${coefficient.uncertaintyPpmPerKelvin}\u00a0ppm/K: R / (1 + α · ΔT)`,
        source: 'IEC 60115-1',
      };
  }
}

function heatRow({ part }: Run, { ohms }: Reading, bench: AtTheBench | null): FigureRow {
  const name = 'Heat of the test current';
  const source = 'P = I² · R; a warning above a tenth of the rating is our choice';
  const meter = bench?.meter ?? null;
  const range = ohms !== null && bench && meter ? rangeInUse({ meter, measurement: bench.measurement }, ohms) : null;
  if (part.ratedWatts === null) return { name, words: 'not known: the lot was received without a rated power' };
  if (ohms === null || !range || range.testCurrentAmperes === null) {
    return { name, words: 'not known: the test current of this range is not among the meter’s data' };
  }
  const heating = selfHeating(ohms, range, part.ratedWatts);
  if (!heating) return { name, words: 'not known' };
  const share = `${figureText(heating.share * 100, 2)}\u00a0% of its rated power`;
  return { name, value: share, words: heating.warning ?? 'too little to warm it', source };
}
