import { type Dispatch, type SetStateAction, useEffect, useRef, useState } from 'react';

/** Forms that are kept when somebody leaves them half filled in. */
export type KeptForm = 'receive' | 'study' | 'study-import' | 'stress' | 'networks';

const kept = new Map<KeptForm, unknown>();

/** What of forms is kept, until this page is closed or loaded anew. */
export const keptForms = {
  /** What was left in a form; null where nothing was. */
  left<T>(form: KeptForm): T | null {
    return (kept.get(form) as T | undefined) ?? null;
  },
  keep(form: KeptForm, filled: unknown): void {
    kept.set(form, filled);
  },
  forget(form: KeptForm): void {
    kept.delete(form);
  },
};

/** A form that is there again as it was left. */
export interface Kept<T> {
  value: T;
  set: Dispatch<SetStateAction<T>>;
  /** It was left half filled in, and is as it was. */
  isFromBefore: boolean;
  /** What it was filled in for is done: it begins anew the next time. */
  done: () => void;
  /** Empties it. */
  beginAnew: () => void;
}

/** What is typed into a form: kept when it is left, until it is sent or emptied. @param begin how it begins */
export function useKept<T>(form: KeptForm, begin: () => T): Kept<T> {
  const [value, set] = useState<T>(() => keptForms.left<T>(form) ?? begin());
  const [isFromBefore, setFromBefore] = useState(() => keptForms.left(form) !== null);
  const untouched = useRef(value);
  useEffect(() => {
    if (value !== untouched.current) keptForms.keep(form, value);
  }, [form, value]);
  return {
    value,
    set,
    isFromBefore,
    done: () => {
      keptForms.forget(form);
      setFromBefore(false);
    },
    beginAnew: () => {
      untouched.current = begin();
      keptForms.forget(form);
      setFromBefore(false);
      set(untouched.current);
    },
  };
}
