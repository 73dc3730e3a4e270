import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const RENDERER = join(import.meta.dirname, '../../renderer');
const TOKENS = readFileSync(join(RENDERER, 'theme/tokens.css'), 'utf8');

/** What the theme says for the usual look, and what it says otherwise for more contrast. */
const [USUAL = '', MORE = ''] = [':root {', ':root[data-contrast="more"] {'].map((opening) => {
  const from = TOKENS.indexOf(opening);
  return TOKENS.slice(from, TOKENS.indexOf('\n}', from));
});

const LOOKS = [
  ['light', 0],
  ['dark', 1],
] as const;

/** A colour of the theme, in light and in dark. */
function colours(name: string, block = USUAL): [light: string, dark: string] {
  const [, light, dark] = new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(block) ?? [];
  if (light === undefined || dark === undefined) throw new Error(`no colour ${name}`);
  return [light, dark];
}

/** WCAG 2.2, relative luminance. */
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((from) => {
    const share = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** WCAG 2.2, contrast ratio. */
function contrast(one: string, other: string): number {
  const [darker = 0, lighter = 0] = [luminance(one), luminance(other)].toSorted((a, b) => a - b);
  return (lighter + 0.05) / (darker + 0.05);
}

/** Every colour that the screens write text in, by the token it is named for. */
const TEXT_TOKENS = [
  ...new Set(
    readdirSync(RENDERER, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.css'))
      .flatMap((name) => [
        ...readFileSync(join(RENDERER, name), 'utf8').matchAll(/(?<![-\w])color: var\(--([\w-]+)\)/g),
      ])
      .map(([, token = '']) => token),
  ),
];

describe('contrast', () => {
  it('is measured as WCAG says', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9);
    // Greys on white at the levels AA and AAA ask for, as published tables of them have it.
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    expect(contrast('#595959', '#ffffff')).toBeCloseTo(7.0, 2);
  });

  it('finds the colours that text is written in', () => {
    expect(TEXT_TOKENS).toEqual(expect.arrayContaining(['ink', 'ink-quiet', 'pass-ink', 'fail-ink', 'open-ink']));
  });
});

describe.each(LOOKS)('digits that are not certain, %s', (_, look) => {
  it('are lighter than certain ones and still readable', () => {
    const [paper, ink, uncertain] = [colours('paper')[look], colours('ink')[look], colours('ink-uncertain')[look]];
    // WCAG 2.2, 1.4.3: 3 : 1 for text of 24 px or more; the reading is never smaller than 3 rem times its shrinking.
    expect(contrast(uncertain, paper)).toBeGreaterThanOrEqual(3);
    expect(contrast(ink, uncertain)).toBeGreaterThanOrEqual(3);
  });
});

describe.each(LOOKS)('more contrast, %s', (_, look) => {
  const of = (name: string) => colours(name, MORE)[look];

  it.each(TEXT_TOKENS.filter((token) => token !== 'paper'))('text in %s stands out 7 : 1', (token) => {
    // WCAG 2.2, 1.4.6.
    expect(contrast(of(token), of('paper'))).toBeGreaterThanOrEqual(7);
    expect(contrast(of(token), of('bench'))).toBeGreaterThanOrEqual(7);
  });

  it('text on what is inked or banded stands out 7 : 1', () => {
    expect(contrast(of('paper'), of('ink'))).toBeGreaterThanOrEqual(7);
    expect(contrast(of('paper'), of('ink-quiet'))).toBeGreaterThanOrEqual(7);
    expect(contrast(of('ink'), of('band'))).toBeGreaterThanOrEqual(7);
  });

  it.each(['pass', 'fail', 'open', 'edge', 'rule', 'focus'])('shapes and lines in %s stand out 4.5 : 1', (token) => {
    // WCAG 2.2, 1.4.11 asks for 3 : 1.
    expect(contrast(of(token), of('paper'))).toBeGreaterThanOrEqual(4.5);
  });
});
