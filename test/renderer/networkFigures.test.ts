import { describe, expect, it } from 'vitest';
import type { Terminals } from '../../core/network/network.ts';
import { analyseNetwork } from '../../core/network/networkAnalysis.ts';
import { readNetwork } from '../../core/network/readNetwork.ts';
import {
  isUnsure,
  ohmsOrOpen,
  percentFigure,
  spanText,
  spreadFigure,
  standingOf,
  uncertaintyFigure,
  worstCaseWindow,
} from '../../renderer/network/networkFigures.ts';
import { partFieldsOf } from '../../renderer/network/networkPart.ts';
import { EMPTY_DRAFT, readDraft } from '../../renderer/receive/draft.ts';

const OPEN = Number.POSITIVE_INFINITY;
const expectedOf = (text: string) => {
  const network = readNetwork(text);
  return { network, expected: analyseNetwork(network, network.between as Terminals).expected };
};
const plainSpaces = (text: string) => text.replaceAll('\u00a0', ' ');

it('writes values, and an open circuit as such', () => {
  expect([0, 0.0047, 4711.123, OPEN].map(ohmsOrOpen).map(plainSpaces)).toEqual(['0 Ω', '4.7 mΩ', '4.7111 kΩ', 'open']);
  expect([0.5, 0.0001, 20].map(uncertaintyFigure).map(plainSpaces)).toEqual(['0.5 Ω', '0.1 mΩ', '20 Ω']);
  expect([1e-31, 2.5].map((ohms) => plainSpaces(spreadFigure(ohms, 1000)))).toEqual(['0 Ω', '2.5 Ω']);
  expect([12.345, -1e-14, 0].map((percent) => plainSpaces(percentFigure(percent, true)))).toEqual([
    '+12.3 %',
    '0 %',
    '0 %',
  ]);
});

it.each([
  [990, 1010, 1000, '0.99 kΩ to 1.01 kΩ'],
  [9999, 10001, 10_000, '9.999 kΩ to 10.001 kΩ'],
  [10, 1e6, 1e6, '10 Ω to 1 MΩ'],
  [0, 4.7, 4.7, '0 Ω to 4.7 Ω'],
  [1000, 1000.0000000001, 1000, '1 kΩ'],
  [1000, OPEN, 1000, '1 kΩ to open'],
  [OPEN, OPEN, OPEN, 'open'],
])('writes the span from %d to %d', (lowest, highest, like, words) => {
  expect(plainSpaces(spanText(lowest, highest, like))).toBe(words);
});

describe('the window of the worst case', () => {
  it('is in decimals that a person would write', () => {
    expect(worstCaseWindow(expectedOf('1k 1% + 2k 1% + 300 1%').expected)).toEqual({
      nominal: '3300',
      lower: '3267',
      upper: '3333',
    });
  });

  it.each(['1k + 2k', '1k || 0', 'R1 a b 1k 1%\nR2 c d 1k 1%\nbetween a d'])('is not there for %j', (text) => {
    const { network, expected } = expectedOf(text);
    expect(worstCaseWindow(expected)).toBeNull();
    expect(partFieldsOf(network, network.between as Terminals, expected)).toBeNull();
  });

  it('has its limits inside, whatever rounding makes of them', () => {
    const { expected } = expectedOf('3k3 1% || 4k7 1%');
    expect([1919.3625, 1919.36, 1958.1375, 1958.14, OPEN].map((ohms) => standingOf(expected, { ohms }))).toEqual([
      'pass',
      'fail-low',
      'pass',
      'fail-high',
      'open',
    ]);
    expect(isUnsure(expected, { ohms: 1919.4, expandedOhms: 0.1 })).toBe(true);
    expect(isUnsure(expected, { ohms: 1939, expandedOhms: 0.1 })).toBe(false);
  });

  it('is that of a part in the receiving form, which reads it', () => {
    const { network, expected } = expectedOf('3k3 1% || 4k7 1%');
    const fields = partFieldsOf(network, ['A', 'B'], expected);
    expect(fields?.description).toBe('Network of 2 resistors between A and B');
    const { window, problems } = readDraft({ ...EMPTY_DRAFT, ...fields });
    expect(window).toEqual({ nominal: '1938.75', lower: '1919.3625', upper: '1958.1375' });
    expect(problems).not.toHaveProperty('tolerance');
    expect(problems).not.toHaveProperty('nominal');
    expect(problems).not.toHaveProperty('description');
  });
});
