import { describe, expect, it } from 'vitest';
import { keyIsFree, type PressedOn } from '../../renderer/keys/keyBelongs.ts';

const on = (over: Partial<PressedOn>): PressedOn => ({
  element: 'body',
  type: '',
  editable: false,
  inDialog: false,
  isOwnButton: false,
  ...over,
});

describe('a key of the job', () => {
  it('works where nothing else has the focus', () => {
    for (const key of ['v', ' ', 'Enter']) expect(keyIsFree(key, on({}))).toBe(true);
  });

  it('leaves letters to text fields, lists and dialogs', () => {
    expect(keyIsFree('v', on({ element: 'input', type: 'text' }))).toBe(false);
    expect(keyIsFree('v', on({ element: 'textarea' }))).toBe(false);
    expect(keyIsFree('v', on({ element: 'select' }))).toBe(false);
    expect(keyIsFree('v', on({ editable: true }))).toBe(false);
    expect(keyIsFree('v', on({ element: 'button', inDialog: true }))).toBe(false);
  });

  it('takes letters on boxes and buttons, which do nothing with them', () => {
    expect(keyIsFree('v', on({ element: 'input', type: 'checkbox' }))).toBe(true);
    expect(keyIsFree('v', on({ element: 'button' }))).toBe(true);
  });

  it('leaves Space and Enter to another button that has the focus, but not to its own', () => {
    expect(keyIsFree(' ', on({ element: 'button' }))).toBe(false);
    expect(keyIsFree('Enter', on({ element: 'a' }))).toBe(false);
    expect(keyIsFree(' ', on({ element: 'summary' }))).toBe(false);
    expect(keyIsFree(' ', on({ element: 'button', isOwnButton: true }))).toBe(true);
  });
});
