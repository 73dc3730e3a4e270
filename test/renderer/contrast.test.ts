import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const TOKENS = readFileSync(join(import.meta.dirname, '../../renderer/theme/tokens.css'), 'utf8');

/** A colour of the theme, in light and in dark. */
function colours(name: string): [light: string, dark: string] {
  const [, light, dark] = new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(TOKENS) ?? [];
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

describe('digits that are not certain', () => {
  it.each([
    ['light', 0],
    ['dark', 1],
  ] as const)('are lighter than certain ones and still readable, %s', (_, look) => {
    const [paper, ink, uncertain] = [colours('paper')[look], colours('ink')[look], colours('ink-uncertain')[look]];
    // WCAG 2.2, 1.4.3: 3 : 1 for text of 24 px or more; the reading is never smaller than 3 rem times its shrinking.
    expect(contrast(uncertain, paper)).toBeGreaterThanOrEqual(3);
    expect(contrast(ink, uncertain)).toBeGreaterThanOrEqual(3);
  });

  it('are measured as WCAG says', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9);
  });
});
