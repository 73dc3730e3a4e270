import type { Draft } from './draft.ts';

/** The fields that labels with bar codes are read into, in the order in which they are filled. */
export const SCANNED_FIELDS = ['partNumber', 'lotNumber', 'reel'] as const;
export type ScannedField = (typeof SCANNED_FIELDS)[number];

/** What they are called. */
export const SCANNED_WORDS: Record<ScannedField, string> = {
  partNumber: 'Part number',
  lotNumber: 'Lot number',
  reel: 'Reel number',
};

/** The first of these fields that is still empty; null where none is. */
export function firstEmpty(draft: Pick<Draft, ScannedField>): ScannedField | null {
  return SCANNED_FIELDS.find((field) => draft[field].trim() === '') ?? null;
}

/**
 * Where the cursor goes after a scan into a field: to the next of part, lot and reel that is empty, where it was one of them;
 * null: to the next field of the form, as after Tab.
 */
export function afterScan(name: string, draft: Pick<Draft, ScannedField>): ScannedField | null {
  return SCANNED_FIELDS.some((field) => field === name) ? firstEmpty(draft) : null;
}
