import Big from 'big.js';
import { problem } from '../problem/problem.ts';
import { type DecimalText, subtract } from '../quantity/decimal.ts';
import { resolutionOfRaw } from '../quantity/formatOhms.ts';
import { correctionOhms } from '../uncertainty/temperature.ts';
import { judge, type Measured, type Verdict } from '../window/judge.ts';
import type { Run, Uncertainty } from './run.ts';
import { uncertaintyOf } from './worth.ts';

/** What a reading comes to. */
export interface JudgedReading {
  ohms: DecimalText | null;
  zeroOhms: DecimalText;
  temperatureOhms: DecimalText;
  uncertainty: Uncertainty | null;
  verdict: Verdict;
}

/**
 * What the meter's text comes to in this run: the zero subtracted, brought to the reference temperature, with its
 * uncertainty, and judged by the decision rule of the lot.
 * @param at the time of the reading
 * @throws the problems of `judge`; temperature-unknown
 */
export function judgeReading(run: Run, measured: Measured, at: string): JudgedReading {
  const { zeroOhms, window, decision } = run;
  if (measured.kind === 'overload') {
    return { ohms: null, zeroOhms, temperatureOhms: '0', uncertainty: null, verdict: judge(window, measured) };
  }
  const { raw } = measured;
  const lessZero = subtract(measured.ohms, zeroOhms);
  const temperatureOhms = toReference(run, lessZero, raw);
  const ohms = temperatureOhms === '0' ? lessZero : subtract(lessZero, new Big(temperatureOhms).neg().toFixed());
  const { expandedOhms, coverageFactor } = uncertaintyOf(run, { ohms: lessZero, raw }, at);
  const uncertainty = expandedOhms === null ? null : { expandedOhms, coverageFactor };
  const verdict = judge(window, { ...measured, ohms }, decision, expandedOhms);
  return { ohms, zeroOhms, temperatureOhms, uncertainty, verdict };
}

/** What is added to bring a value to the reference temperature. @throws problem temperature-unknown */
function toReference({ ambientCelsius, temperature }: Run, ohms: DecimalText, raw: string): DecimalText {
  if (temperature.coefficient.kind !== 'known') return '0';
  if (ambientCelsius === null) throw problem('temperature-unknown');
  return correctionOhms(ohms, ambientCelsius, temperature, resolutionOfRaw(raw) ?? '0');
}
