import { useEffect, useRef, useState } from 'react';

/** A value that follows `value` at most every so many milliseconds, the last one always: for charts that may lag a little. */
export function useCoalesced<T>(value: T, milliseconds: number): T {
  const [shown, setShown] = useState(value);
  const latest = useRef(value);
  const due = useRef<ReturnType<typeof setTimeout> | null>(null);
  latest.current = value;

  useEffect(() => {
    if (Object.is(value, shown) || due.current !== null) return;
    due.current = setTimeout(() => {
      due.current = null;
      setShown(latest.current);
    }, milliseconds);
  }, [value, shown, milliseconds]);
  useEffect(
    () => () => {
      if (due.current !== null) clearTimeout(due.current);
    },
    [],
  );
  return shown;
}
