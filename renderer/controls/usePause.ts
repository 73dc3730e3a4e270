import { useEffect, useState } from 'react';

const PAUSE_MILLISECONDS = 700;

/** Whether something was left as it is for a moment: nobody is told what is wrong with what is still being typed. */
export function usePause(value: unknown): boolean {
  const [still, setStill] = useState<unknown>(null);
  useEffect(() => {
    const due = setTimeout(() => setStill(value), PAUSE_MILLISECONDS);
    return () => clearTimeout(due);
  }, [value]);
  return still === value;
}
