import { isRefused, type Refused } from '../../../core/statistics/values.ts';

/** The figure; a refusal fails the test with its words. */
export function given<T extends object>(figure: T | Refused): T {
  if (isRefused(figure)) throw new Error(`refused: ${figure.refused}`);
  return figure;
}

/** The words of a refusal; a figure fails the test. */
export function refusal(figure: object): string {
  if (!('refused' in figure) || typeof figure.refused !== 'string') throw new Error('not refused');
  return figure.refused;
}
