import { useEffect, useState } from 'react';

/** A value once it was left as it is for so many milliseconds; with 0 the value itself. */
export function useSettled<T>(value: T, milliseconds: number): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const due = setTimeout(() => setSettled(value), milliseconds);
    return () => clearTimeout(due);
  }, [value, milliseconds]);
  return milliseconds === 0 ? value : settled;
}
