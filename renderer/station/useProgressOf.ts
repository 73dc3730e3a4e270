import { useEffect, useState } from 'react';
import type { Progress } from '../../core/progress/progress.ts';
import { useStation } from './station.tsx';

/** How far the work of that name is, whoever asked for it; null while there is none. */
export function useProgressOf(work: string): Progress | null {
  const { line, up } = useStation();
  const [progress, setProgress] = useState<Progress | null>(null);
  useEffect(() => {
    // Where the line dropped nothing is known of it.
    setProgress(null);
    if (up === false) return;
    return line.listen((news) => {
      if (news.kind === 'work' && news.work === work) setProgress(news.progress);
    });
  }, [line, up, work]);
  return progress;
}
