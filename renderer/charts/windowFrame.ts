import Big from 'big.js';
import type { Window } from '../../core/window/window.ts';
import { type Guard, guardBands } from '../windowBar/guardBands.ts';
import { windowScale } from '../windowBar/windowScale.ts';
import { limitText } from '../words/ohms.ts';
import type { PlotAxis, PlotBand, PlotFrame, PlotLevel } from './plot.tsx';

/** Guard bands follow the uncertainty of each reading; by less than this share of the axis nobody sees them move. */
const FINENESS = 1000;
/** Marks nearer than this share of the axis would touch. */
const APART = 0.12;

/** Values against the window: the axis of values, the limits and the nominal value, the window and its guard bands. */
export function windowFrame(window: Window, guard: Guard | null): Pick<PlotFrame, 'y' | 'levels' | 'bands'> {
  const { from, to } = windowScale(window);
  const lower = window.lower === null ? null : Number(window.lower);
  const upper = window.upper === null ? null : Number(window.upper);
  const limits = [window.lower, window.upper].filter((limit) => limit !== null);
  const y: PlotAxis = { from, to, ticks: ticksOf(window, limits, to - from) };
  const levels: PlotLevel[] = [
    ...(window.nominal === null ? [] : [{ on: 'y', at: Number(window.nominal), kind: 'centre' } as const]),
    ...limits.map((limit): PlotLevel => ({ on: 'y', at: Number(limit), kind: 'limit' })),
  ];
  const step = (to - from) / FINENESS;
  const fine = (value: number) => Math.round(value / step) * step;
  const bands: PlotBand[] = [
    { on: 'y', from: lower ?? from, to: upper ?? to, kind: 'window' },
    ...(guard === null ? [] : guardBands(window, guard)).map(
      (band): PlotBand => ({
        on: 'y',
        from: Math.max(from, fine(band.from)),
        to: Math.min(to, fine(band.to)),
        kind: 'guard',
      }),
    ),
  ];
  return { y, levels, bands };
}

function ticksOf(window: Window, limits: readonly string[], span: number) {
  const isNear = (value: string) => limits.some((limit) => Math.abs(Number(limit) - Number(value)) < APART * span);
  const nominal = window.nominal === null || isNear(window.nominal) ? [] : [window.nominal];
  return [...limits, ...nominal].map((value) => ({
    at: Number(value),
    text: limitText(new Big(value).toFixed(), window),
  }));
}
