import { useEffect, useRef } from 'react';
import { isTextField, keyIsFree, pressedOn } from './keyBelongs.ts';

/**
 * Does something when a key of the job is pressed anywhere on the screen where it is free.
 * A key that is held down counts once; `null` switches it off. Escape closes what is open over the page before it does anything.
 * @param key as the browser names it: `Enter`, ` `, or a lower case letter
 * @param press is given the moment of the press in milliseconds on the page's clock, which may be well before it is
 *   called on a page that was busy
 */
export function useKey(key: string, press: ((pressedAt: number) => void) | null): void {
  const latest = useRef(press);
  latest.current = press;
  useEffect(() => {
    const down = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      if (event.key.toLowerCase() !== key.toLowerCase()) return;
      if (key === 'Escape' && document.querySelector(':popover-open')) return;
      const on = pressedOn(event.target, key);
      if (!keyIsFree(key, on)) {
        // The first press leaves the field, the next one the screen: what was typed is not lost by one key.
        if (key === 'Escape' && latest.current && isTextField(on)) (event.target as HTMLElement).blur();
        return;
      }
      // Also where nothing is done: a held Space must neither scroll the page nor press the button again.
      if (latest.current || event.repeat) event.preventDefault();
      if (!event.repeat) latest.current?.(event.timeStamp);
    };
    // A button acts on Space when it is let go; its press was taken above.
    const up = (event: KeyboardEvent) => {
      if (key === ' ' && event.key === ' ' && pressedOn(event.target, key).isOwnButton) event.preventDefault();
    };
    window.addEventListener('keydown', down);
    window.addEventListener('keyup', up);
    return () => {
      window.removeEventListener('keydown', down);
      window.removeEventListener('keyup', up);
    };
  }, [key]);
}
