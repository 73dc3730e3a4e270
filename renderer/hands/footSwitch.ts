import { useEffect, useRef } from 'react';
import { keyIsFree, pressedOn } from '../keys/keyBelongs.ts';
import { remember, remembered } from '../theme/remembered.ts';

/** What of a key press matters here; a foot switch acts as a keyboard and sends one. */
export type KeyPress = Pick<KeyboardEvent, 'code' | 'key' | 'ctrlKey' | 'altKey' | 'shiftKey' | 'metaKey'>;

/** Keys that only change what others mean; a switch may send them before its own. */
const ONLY_WITH_OTHERS = new Set(['Control', 'Alt', 'AltGraph', 'Shift', 'Meta', 'CapsLock', 'NumLock', 'Dead']);
/** Keys by which the screen itself is worked. */
const OF_THE_SCREEN = new Set(['Tab', 'Escape', 'ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight']);

/** The name of a press, by the place of its key and not by the letter on it: `F13`, `Control+KeyB`. */
export function pressName({ code, key, ctrlKey, altKey, shiftKey, metaKey }: KeyPress): string {
  const held = [ctrlKey && 'Control', altKey && 'Alt', shiftKey && 'Shift', metaKey && 'Meta'];
  return [...held.filter((name) => name !== false), code || key].join('+');
}

/** The same for people: `B` instead of `KeyB`. */
export function switchWords(name: string): string {
  return name.replace(/\b(?:Key|Digit)(?=\w\b)/, '').replaceAll('+', ' + ');
}

/** Whether a press says nothing by itself, so that one goes on listening. */
export function saysNothing({ key }: Pick<KeyPress, 'key'>): boolean {
  return ONLY_WITH_OTHERS.has(key);
}

/**
 * Why a key can't be the foot switch, in words; null where it can.
 * @param jobKeys keys that do another part of the job on this screen, as the browser names them
 */
export function whyNoSwitch(press: KeyPress, jobKeys: readonly string[]): string | null {
  const plain = !press.ctrlKey && !press.altKey && !press.metaKey;
  const taken = OF_THE_SCREEN.has(press.key) || (plain && jobKeys.includes(press.key.toLowerCase()));
  if (!taken) return null;
  return `${switchWords(pressName(press))} does something else on this screen. Set the switch to another key, F13 for one, and press it again.`;
}

/** The name of the press that the foot switch of this computer sends; null where none was learned. */
export function learnedSwitch(): string | null {
  return remembered('foot-switch') || null;
}

/** Remembers which press the foot switch of this computer sends; null forgets it. */
export function learnSwitch(name: string | null): void {
  remember('foot-switch', name ?? '');
}

/**
 * Does something when the learned foot switch is pressed anywhere on the screen but in a dialog or where its letter is
 * written; before any key of the job and whatever has the focus. `null` switches it off.
 */
export function useFootSwitch(press: ((pressedAt: number) => void) | null): void {
  const latest = useRef(press);
  latest.current = press;
  useEffect(() => {
    const isSwitch = (event: KeyboardEvent) => {
      if (!latest.current || pressName(event) !== learnedSwitch()) return false;
      const on = pressedOn(event.target, event.key);
      if (on.inDialog) return false;
      return event.key.length > 1 || keyIsFree('a', { ...on, isOwnButton: false });
    };
    const down = (event: KeyboardEvent) => {
      if (!isSwitch(event)) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      if (!event.repeat) latest.current?.(event.timeStamp);
    };
    // A button acts on Space when it is let go.
    const up = (event: KeyboardEvent) => {
      if (isSwitch(event)) event.preventDefault();
    };
    window.addEventListener('keydown', down, { capture: true });
    window.addEventListener('keyup', up, { capture: true });
    return () => {
      window.removeEventListener('keydown', down, { capture: true });
      window.removeEventListener('keyup', up, { capture: true });
    };
  }, []);
}
