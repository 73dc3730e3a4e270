import { describe, expect, it } from 'vitest';
import { readClosedBelow, USUAL_CLOSED_BELOW } from '../../renderer/continuity/closedBelow.ts';
import { CONTINUITY_CAUTIONS } from '../../renderer/continuity/continuityCautions.ts';

describe('what counts as closed', () => {
  it.each([
    [USUAL_CLOSED_BELOW, '10'],
    ['0R5', '0.5'],
    ['2 ohm', '2'],
    ['1k', '1000'],
  ])('%s is %s ohms', (text, ohms) => {
    expect(readClosedBelow(text)).toEqual({ ohms });
  });

  it.each(['', '0', '-3', '1.1k', 'ten'])('%s is refused in words that say what to write', (text) => {
    expect(readClosedBelow(text)).toEqual({ wrong: expect.stringMatching(/Give|Write/) });
  });
});

it('the cautions ask for what is de-energised and isolated, leave local rules first, and call nothing safe', () => {
  const all = CONTINUITY_CAUTIONS.join(' ');
  expect(all).toMatch(/de-energised and isolated/);
  expect(all).toMatch(/Local rules/);
  expect(all).toMatch(/never says that something is safe/);
});
