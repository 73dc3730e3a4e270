import type { Draft, DraftField } from './draft.ts';

/** What a field of the receiving form needs: its value, what is wrong with it, and how it is changed. */
export type FieldOf = (field: DraftField) => {
  name: DraftField;
  value: string;
  onChange: (value: string) => void;
  onBlur: () => void;
  problem: string | undefined;
};

/** Sets a field of the receiving form. */
export type SetField = <F extends DraftField>(field: F, value: Draft[F]) => void;
