import type { Marked } from '../../core/marking/marking.ts';
import type { Part } from '../../core/part/part.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import type { Draft } from './draft.ts';
import { draftOfPart, type PartDraft } from './partDraft.ts';

/** From where a form was filled, and how it stood before. */
export interface Filled {
  from: { kind: 'part'; part: Part } | { kind: 'marking'; words: string; what: string };
  /** The fields as they were filled. */
  fields: Partial<PartDraft>;
  before: Draft;
}

/** The form filled from a part. A supplier that was given stays where the part names none. */
export function fillFromPart(draft: Draft, part: Part): { draft: Draft; filled: Filled } {
  const given = draftOfPart(part);
  const fields = { ...given, supplier: given.supplier === '' ? draft.supplier : given.supplier };
  return { draft: { ...draft, ...fields }, filled: { from: { kind: 'part', part }, fields, before: draft } };
}

/** The form with what a marking says; what it does not say stays. Its coefficient is a limit, never a known value. */
export function fillFromMarking(draft: Draft, marked: Marked, words: string): { draft: Draft; filled: Filled } {
  const { tolerancePercent, ppmPerKelvin } = marked;
  const fields: Partial<PartDraft> = {
    nominal: formatOhms(marked.ohms),
    ...(tolerancePercent !== null && { tolerance: `${tolerancePercent} %` }),
    ...(ppmPerKelvin !== null && { coefficient: 'limit' as const, limitPpm: ppmPerKelvin }),
  };
  const said = ['nominal value', tolerancePercent !== null && 'tolerance', ppmPerKelvin !== null && 'coefficient'];
  const what = said.filter(Boolean).join(', ');
  return { draft: { ...draft, ...fields }, filled: { from: { kind: 'marking', words, what }, fields, before: draft } };
}
