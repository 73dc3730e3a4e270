import { describe, expect, it } from 'vitest';
import { stressResult } from '../../core/drift/stress.ts';
import { columnText, digitsOf, pieceWords, standingOfPiece, worstFirst } from '../../renderer/stress/worstPiece.ts';

// The limit of a 1 000 Ω piece is 0.25 % of it and 0.05 Ω: 2.55 Ω.
const { pieces } = stressResult({
  treatment: 'heat',
  limit: { percent: '0.25', ohms: '0.05' },
  before: ['1', '2', '3', '4', '5'].map((piece) => ({ piece, ohms: '1000', expandedOhms: '0.1' })),
  after: [
    { piece: '1', ohms: '1001', expandedOhms: '0.1' },
    { piece: '2', ohms: '997.40', expandedOhms: '0.1' },
    { piece: '3', ohms: null },
    { piece: '4', ohms: '1009', expandedOhms: '0.1' },
    { piece: '5', ohms: '1002.5', expandedOhms: '0.1' },
  ],
});

describe('pieces after a treatment', () => {
  it('are ordered by how much of their limit they used up, open ones first', () => {
    expect(worstFirst(pieces).map(({ piece }) => piece)).toEqual(['3', '4', '2', '5', '1']);
  });

  it('have a shape and a word, half filled where it is not sure', () => {
    expect(pieces.map((piece) => [standingOfPiece(piece), pieceWords(piece)])).toEqual([
      ['pass', 'Within'],
      ['conditional-fail-low', 'Beyond, not sure'],
      ['open', 'Open now'],
      ['fail-high', 'Beyond'],
      ['conditional-pass', 'Within, not sure'],
    ]);
  });

  it('stand in columns to the finest digit of any, in one unit', () => {
    const { value, change } = digitsOf(pieces);
    expect(columnText('1001', '1000', value)).toBe('1.00100\u00a0kΩ');
    expect(columnText('997.40', '1000', value)).toBe('0.99740\u00a0kΩ');
    expect(columnText('-2.6', '2.55', change, true)).toBe('\u22122.60\u00a0Ω');
    expect(columnText('9', '2.55', change, true)).toBe('+9.00\u00a0Ω');
  });
});
