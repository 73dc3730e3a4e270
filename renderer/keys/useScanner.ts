import { useEffect, useRef } from 'react';
import { FASTEST_HANDS_MILLISECONDS, NOTHING_QUICK, type Quick, takeKey } from './scan.ts';

/** A text field that takes what is typed. */
export type TextInput = HTMLInputElement;

/** The text field a key was pressed in; null where it was pressed elsewhere. */
function textFieldOf(target: EventTarget | null): TextInput | null {
  return target instanceof HTMLInputElement && target.type === 'text' ? target : null;
}

/** A key that was held back and is pressed for a second time, for the keys of the job to hear. */
const PRESSED_AGAIN = new WeakSet<Event>();

/**
 * Hears bar code scanners on the screen that uses it. The Enter or Tab that ends a scan does nothing else, nor a second one behind it. A scan into a text field
 * has typed itself there; pressed elsewhere, its letters press no key of the job and change no choice: letters wait for the
 * blink of an eye in which it shows whether more follow.
 * @param hear is given the scan and the text field it was typed in; null: typed elsewhere
 */
export function useScanner(hear: (scanned: string, field: TextInput | null) => void): void {
  const latest = useRef(hear);
  latest.current = hear;
  useEffect(() => {
    let quick: Quick = NOTHING_QUICK;
    /** The list that had the focus when the letters began, and what was chosen in it. */
    let choice: { list: HTMLSelectElement; value: string } | null = null;
    let heldBack: ReturnType<typeof setTimeout> | undefined;

    const down = (event: KeyboardEvent) => {
      if (PRESSED_AGAIN.has(event)) return;
      const { target } = event;
      if (target instanceof HTMLElement && target.closest('dialog, [popover]')) return;
      const byHand = event.ctrlKey || event.altKey || event.metaKey || event.repeat || event.isComposing;
      const taken = takeKey(quick, { key: event.key, at: event.timeStamp, byHand });
      quick = taken.quick;
      const field = textFieldOf(target);
      if (taken.isEnd) {
        event.preventDefault();
        event.stopImmediatePropagation();
      }
      if (taken.scanned !== null) {
        clearTimeout(heldBack);
        if (choice) choose(choice.list, choice.value);
        choice = null;
        latest.current(taken.scanned, field);
        return;
      }
      if (field || quick.text === '') return;
      const isFirst = quick.text === event.key;
      clearTimeout(heldBack);
      if (isFirst) choice = target instanceof HTMLSelectElement ? { list: target, value: target.value } : null;
      event.stopImmediatePropagation();
      // A blank within a scan must not press the button that has the focus.
      if (!isFirst) event.preventDefault();
      else heldBack = setTimeout(() => pressAgain(event), FASTEST_HANDS_MILLISECONDS);
    };
    window.addEventListener('keydown', down, { capture: true });
    return () => {
      clearTimeout(heldBack);
      window.removeEventListener('keydown', down, { capture: true });
    };
  }, []);
}

function pressAgain({ target, key, code, shiftKey }: KeyboardEvent): void {
  const again = new KeyboardEvent('keydown', { key, code, shiftKey, bubbles: true, cancelable: true });
  PRESSED_AGAIN.add(again);
  (target ?? document.body).dispatchEvent(again);
}

/** Chooses in a list as a person would, so that whoever listens hears of it. */
function choose(list: HTMLSelectElement, value: string): void {
  if (list.value === value) return;
  list.value = value;
  list.dispatchEvent(new Event('change', { bubbles: true }));
}
