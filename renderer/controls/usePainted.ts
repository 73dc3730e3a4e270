import { useEffect, useState } from 'react';

/** Whether what was drawn first is on the screen: what holds the screen up for a moment is begun only after it was said. */
export function usePainted(): boolean {
  const [painted, setPainted] = useState(false);
  useEffect(() => {
    let task: ReturnType<typeof setTimeout> | undefined;
    const frame = requestAnimationFrame(() => {
      // A task behind the frame runs after that was painted.
      task = setTimeout(() => setPainted(true));
    });
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(task);
    };
  }, []);
  return painted;
}
