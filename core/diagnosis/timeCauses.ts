import { ohmsText } from './causeWords.ts';
import type { LotSeen, Seen } from './lotSeen.ts';
import type { LotExplained, LotReference } from './oddLot.ts';

/** A reference that moved by more standard deviations of a reading has moved. Our choice. */
const REFERENCE_MOVED = 4.5;
/** A mean step so many standard errors from none is a slope. Our choice: chance makes one in some hundred thousand lots. */
const SLOPE_ERRORS = 5;
const LEAST_STEPS = 5;

/** What changes with time: the meter by its reference, the piece while it is held. */
export function timeCauses(lot: LotSeen): LotExplained[] {
  return [...meterDrift(lot), ...warming(lot)];
}

function meterDrift({ lot, nominal, noise }: LotSeen): LotExplained[] {
  const last = lot.references.at(-1);
  const references = lot.references.filter(({ name, trueOhms }) => name === last?.name && trueOhms === last.trueOhms);
  const [first] = references;
  if (!first || references.length < 2) return [];
  const deviation = ({ measuredOhms, trueOhms }: LotReference) => (measuredOhms - trueOhms) / trueOhms;
  const moved = references.map((reference) => deviation(reference) - deviation(first));
  const most = moved.reduce((far, one) => (Math.abs(one) > Math.abs(far) ? one : far), 0);
  // A check that judged by more than this has the word.
  const isFailed = !first.failed && references.at(-1)?.failed === true && most !== 0;
  if (!isFailed && Math.abs(most) <= (REFERENCE_MOVED * noise) / nominal) return [];
  const where = references[moved.indexOf(most)] as LotReference;
  return [
    {
      cause: 'meter drift',
      weight: 0.97,
      evidence: `The reference has moved by ${ppm(most)} between the first check and the one after reading ${where.afterReading}: ${ohmsText(first.measuredOhms, 7)}, then ${ohmsText(where.measuredOhms, 7)}. A piece of ${ohmsText(nominal)} moves by ${ohmsText(Math.abs(most) * nominal, 3)} with it.`,
      next: 'Let the meter warm up, look at the ambient temperature and at its zero, do the check of the reference again, and take the readings since the last good check again.',
    },
  ];
}

/** A piece that moves one way while it is held: warmed by a hand or by the test current, or cooling. */
function warming({ repeats, noise, nominal }: LotSeen): LotExplained[] {
  const steps = repeats.flatMap((group) => group.slice(1).map(({ ohms }, index) => ohms - (group[index] as Seen).ohms));
  if (steps.length < LEAST_STEPS) return [];
  const mean = steps.reduce((sum, step) => sum + step, 0) / steps.length;
  const deviation = Math.sqrt(steps.reduce((sum, step) => sum + (step - mean) ** 2, 0) / (steps.length - 1));
  const changes = repeats.map((group) => (group.at(-1) as Seen).ohms - (group[0] as Seen).ohms);
  const change = changes.reduce((sum, one) => sum + one, 0) / changes.length;
  const oneWay = changes.filter((one) => Math.sign(one) === Math.sign(change)).length;
  // Steps within a piece hang together by the reading between them, so the changes of whole pieces are counted as well.
  const error = Math.max(deviation, noise) / Math.sqrt(steps.length);
  const isSlope = Math.abs(mean) > SLOPE_ERRORS * error || isSteadyOneWay(changes, change, oneWay, noise);
  if (!isSlope) return [];
  const seconds = repeats
    .map((group) => ((group.at(-1) as Seen).atMilliseconds - (group[0] as Seen).atMilliseconds) / 1000)
    .reduce((sum, one) => sum + one, 0);
  const perPiece = seconds / repeats.length;
  return [
    {
      cause: 'warming',
      weight: 0.95,
      evidence: `Of ${repeats.length} pieces that were read several times ${oneWay} ${change > 0 ? 'rose' : 'fell'}, by ${ohmsText(Math.abs(change), 3)} (${ppm(Math.abs(change) / nominal)}) on average${perPiece > 0 ? ` within ${Number(perPiece.toPrecision(2))} s` : ''}.`,
      next: 'Hold the piece in clips, not in the hand, wait until its reading stands still, and use a higher range if the meter heats it.',
    },
  ];
}

function isSteadyOneWay(changes: readonly number[], change: number, oneWay: number, noise: number): boolean {
  if (changes.length < LEAST_STEPS) return false;
  const deviation = Math.sqrt(changes.reduce((sum, one) => sum + (one - change) ** 2, 0) / (changes.length - 1));
  const error = Math.max(deviation, noise) / Math.sqrt(changes.length);
  return Math.abs(change) > SLOPE_ERRORS * error && oneWay >= 0.8 * changes.length;
}

function ppm(share: number): string {
  return `${Math.round(share * 1e6)
    .toLocaleString('en')
    .replaceAll(',', ' ')} ppm`;
}
