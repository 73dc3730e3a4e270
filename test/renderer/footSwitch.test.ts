import { describe, expect, it } from 'vitest';
import { type KeyPress, pressName, saysNothing, switchWords, whyNoSwitch } from '../../renderer/hands/footSwitch.ts';

const press = (key: string, code: string, held: Partial<KeyPress> = {}): KeyPress => ({
  key,
  code,
  ctrlKey: false,
  altKey: false,
  shiftKey: false,
  metaKey: false,
  ...held,
});

const JOB = ['v', 'o', 'm'];

describe('the foot switch', () => {
  it.each([
    [press('F13', 'F13'), 'F13', 'F13'],
    [press('b', 'KeyB'), 'KeyB', 'B'],
    [press('B', 'KeyB', { shiftKey: true }), 'Shift+KeyB', 'Shift + B'],
    [press('1', 'Digit1', { ctrlKey: true, altKey: true }), 'Control+Alt+Digit1', 'Control + Alt + 1'],
    [press('MediaPlayPause', ''), 'MediaPlayPause', 'MediaPlayPause'],
  ])('is known by the place of its key, %#', (pressed, name, words) => {
    expect(pressName(pressed)).toBe(name);
    expect(switchWords(name)).toBe(words);
  });

  it('is another press when something else is held', () => {
    expect(pressName(press('b', 'KeyB'))).not.toBe(pressName(press('b', 'KeyB', { ctrlKey: true })));
  });

  it('can be any key that does nothing else on the screen', () => {
    for (const free of [press('F13', 'F13'), press('PageDown', 'PageDown'), press(' ', 'Space'), press('z', 'KeyZ')]) {
      expect(whyNoSwitch(free, JOB)).toBeNull();
    }
    expect(whyNoSwitch(press('v', 'KeyV', { ctrlKey: true }), JOB)).toBeNull();
  });

  it('cannot be a key that does something else there, in words that say what to do', () => {
    for (const taken of [press('v', 'KeyV'), press('V', 'KeyV', { shiftKey: true }), press('Tab', 'Tab')]) {
      expect(whyNoSwitch(taken, JOB)).toMatch(/does something else on this screen\. Set the switch to another key/);
    }
  });

  it('is not learned from a key that only changes others', () => {
    expect(saysNothing(press('Shift', 'ShiftLeft', { shiftKey: true }))).toBe(true);
    expect(saysNothing(press('F13', 'F13', { shiftKey: true }))).toBe(false);
  });
});
