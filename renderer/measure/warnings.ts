import { meterDrift } from '../../core/drift/meterDrift.ts';
import type { LeavesAt } from '../../core/drift/reelTrend.ts';
import { positionsAreKnown } from '../../core/inspection/positionTaken.ts';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { rememberLast } from '../../core/quantity/rememberLast.ts';
import { rangeInUse } from '../../core/readiness/rangeInUse.ts';
import { selfHeating } from '../../core/uncertainty/selfHeating.ts';
import { ENOUGH, testUncertaintyRatio } from '../../core/uncertainty/testUncertaintyRatio.ts';
import { conforms } from '../../core/window/judge.ts';
import { formatCount } from '../words/count.ts';

/** What weakens what the screen says, in one sentence. */
export interface Warning {
  kind:
    | 'meter-drift'
    | 'self-heating'
    | 'reel-trend'
    | 'uncertainty-ratio'
    | 'uncertainty-unknown'
    | 'conditional'
    | 'temperature';
  words: string;
}

/** From this share of what the meter may move between two checks on it is said that it moves. Our choice. */
const DRIFT_WORTH_SAYING = 0.5;
/** Beyond this E_n number meter and reference do not agree (ISO/IEC 17043:2010, B.3.1.3, from memory). */
const EN_AGREES = 1;

const shown = (ohms: string) => formatOhms(ohms).replace(' ', '\u00a0');

/**
 * What weakens the last reading of a run and its verdict, the most important first: what is wrong with all readings before
 * what is wrong with this one.
 * @param leavesAt where the trend along the reel leaves the window; null where none does
 */
export function warningsOf(run: Run, reading: Reading, leavesAt: LeavesAt | null = null): Warning[] {
  return [
    meterWarning(run),
    heatWarning(run, reading),
    trendWarning(run, leavesAt),
    ratioWarning(run, reading),
    unknownWarning(reading),
    conditionalWarning(reading),
    temperatureWarning(run, reading),
  ].filter((warning) => warning !== null);
}

/**
 * How far the meter has moved by its last check with a reference. That of the first check with the same one is all it is compared
 * with: a run may have a thousand. Every reading asks again.
 */
const lastDrift = rememberLast((references: Run['references'], window: Run['window']) => {
  const last = references.at(-1);
  const first = references.find(({ name, ohms }) => name === last?.name && ohms === last.ohms);
  return first && last && meterDrift([first, last], window).at(-1);
});

function meterWarning({ references, window }: Run): Warning | null {
  const last = lastDrift(references, window);
  if (!last) return null;
  const kind = 'meter-drift';
  if (last.en !== null && Math.abs(last.en) > EN_AGREES) {
    const words = `Meter and reference do not agree within their uncertainties: E_n is ${last.en.toFixed(1)}.`;
    return { kind, words };
  }
  const share = Math.abs(Number(last.driftOhms)) / Number(last.mostDriftOhms);
  if (!(share >= DRIFT_WORTH_SAYING)) return null;
  const words = `The meter moved by ${shown(last.driftOhms)} since its first check, ${Math.round(share * 100)}\u00a0% of what it may.`;
  return { kind, words };
}

function heatWarning(run: Run, { ohms }: Reading): Warning | null {
  if (ohms === null || !run.meter) return null;
  const { meter, measurement, part } = run;
  const heating = selfHeating(ohms, rangeInUse({ meter, measurement }, ohms), part.ratedWatts);
  if (!heating?.warning) return null;
  const share = Number((heating.share * 100).toPrecision(2));
  return { kind: 'self-heating', words: `The test current heats the piece with ${share}\u00a0% of its rated power.` };
}

function trendWarning(run: Run, leavesAt: LeavesAt | null): Warning | null {
  if (leavesAt === null) return null;
  const way = leavesAt.limit === 'upper' ? 'rises' : 'falls';
  const one = positionsAreKnown(run) ? 'position' : 'piece';
  const words = `The value ${way} along the reel: at this slope ${one} ${formatCount(leavesAt.piece)} leaves the window.`;
  return { kind: 'reel-trend', words };
}

function ratioWarning({ window }: Run, { uncertainty }: Reading): Warning | null {
  const found = testUncertaintyRatio(window, uncertainty?.expandedOhms ?? null);
  if (!found?.warning) return null;
  const words = `The test uncertainty ratio is ${found.ratio}, under ${ENOUGH}: verdicts near a limit are weak.`;
  return { kind: 'uncertainty-ratio', words };
}

function unknownWarning({ ohms, uncertainty }: Reading): Warning | null {
  if (ohms === null || uncertainty !== null) return null;
  return {
    kind: 'uncertainty-unknown',
    words: 'The uncertainty of this reading is not known; what it is worth says why.',
  };
}

function conditionalWarning({ piece, verdict }: Reading): Warning | null {
  if (!verdict.startsWith('conditional-')) return null;
  const side = conforms(verdict) ? 'inside its limit by less than' : 'outside its limit by no more than';
  return { kind: 'conditional', words: `Piece ${piece} lies ${side} a guard band.` };
}

function temperatureWarning({ temperature, ambientCelsius }: Run, { ohms }: Reading): Warning | null {
  const { coefficient, referenceCelsius } = temperature;
  if (ohms === null || coefficient.kind !== 'limit' || ambientCelsius === null) return null;
  if (Number(ambientCelsius) === Number(referenceCelsius)) return null;
  const words = `The value is that at ${ambientCelsius}\u00a0°C, not at ${referenceCelsius}\u00a0°C: the coefficient has only a limit.`;
  return { kind: 'temperature', words };
}
