import Big from 'big.js';
import { safeText } from '../certificate/safeText.ts';
import type { HistoryRow } from './history.ts';

/**
 * Columns of the exported history and what of a row stands in each. Texts of people are made safe for spreadsheets, numbers have a
 * dot and full resolution, empty is not known or none.
 */
const COLUMNS: Record<string, (row: HistoryRow) => string | number | boolean | null | undefined> = {
  run: ({ run }) => run,
  received_at: ({ receivedAt }) => receivedAt,
  part: ({ part }) => safeText(part),
  description: ({ description }) => safeText(description),
  supplier: ({ supplier }) => safeText(supplier),
  lot: ({ lot }) => safeText(lot),
  reel: ({ reel }) => safeText(reel),
  inspector: ({ inspector }) => safeText(inspector),
  practice: ({ simulated }) => simulated,
  study: ({ study }) => study,
  lot_size: ({ lotSize }) => lotSize,
  sample_size: ({ sampleSize }) => sampleSize,
  measured: ({ counted }) => counted,
  nonconforming: ({ nonconforming }) => nonconforming,
  severity: ({ severity }) => severity,
  step: ({ step }) => step,
  disposition: ({ disposition }) => disposition,
  decided_at: ({ decidedAt }) => decidedAt,
  decided_by: ({ decidedBy }) => decidedBy && safeText(decidedBy),
  reason: ({ reason }) => reason && safeText(reason),
  approved_by: ({ approvedBy }) => approvedBy && safeText(approvedBy),
  offered_again_after_run: ({ offeredAgainAfter }) => offeredAgainAfter,
  certificates: ({ certificates }) => certificates,
  nominal_ohms: ({ nominalOhms }) => nominalOhms,
  lower_ohms: ({ lowerOhms }) => lowerOhms,
  upper_ohms: ({ upperOhms }) => upperOhms,
  values_counted: ({ figures }) => figures?.count,
  left_out: ({ figures }) => figures?.leftOut,
  mean_ohms: ({ figures }) => figures?.meanOhms,
  standard_deviation_ohms: ({ figures }) => figures?.standardDeviationOhms,
  lowest_ohms: ({ figures }) => figures?.lowestOhms,
  highest_ohms: ({ figures }) => figures?.highestOhms,
  ppk: ({ ppk }) => ppk,
};

/** The names of the columns; they say their units. */
export const HISTORY_COLUMNS: readonly string[] = Object.keys(COLUMNS);

/** A run of the history as the cells of its row in the exported file. */
export function historyCells(row: HistoryRow): string[] {
  return Object.values(COLUMNS).map((of) => {
    const value = of(row);
    if (value === null || value === undefined) return '';
    if (typeof value === 'boolean') return value ? 'yes' : 'no';
    return typeof value === 'number' ? new Big(value).toFixed() : value;
  });
}
