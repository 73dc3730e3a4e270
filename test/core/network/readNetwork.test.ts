import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nodesOf } from '../../../core/network/network.ts';
import { MOST_ELEMENTS, readNetwork } from '../../../core/network/readNetwork.ts';
import { Problem } from '../../../core/problem/problem.ts';

const ONE_PERCENT = { kind: 'percent', plus: '1', minus: '1' };

describe('a description of a network', () => {
  it('has a line for each resistor, a usual tolerance, terminals, sources and comments', () => {
    const text = `# a divider of our own
tolerance 1%
between in 0

R1 in  out 4k7
R2 out 0   3.3 k ±5 %   ; the lower one
R3 out 0   1M +10 -5 %
Rj out tap 0R 50 mohm
V1 in 0 12V 0.5 * the supply`;
    expect(readNetwork(text)).toEqual({
      between: ['in', '0'],
      resistors: [
        { name: 'R1', from: 'in', to: 'out', ohms: '4700', tolerance: ONE_PERCENT },
        { name: 'R2', from: 'out', to: '0', ohms: '3300', tolerance: { kind: 'percent', plus: '5', minus: '5' } },
        { name: 'R3', from: 'out', to: '0', ohms: '1000000', tolerance: { kind: 'percent', plus: '10', minus: '5' } },
        { name: 'Rj', from: 'out', to: 'tap', ohms: '0', tolerance: { kind: 'ohms', plus: '0.05', minus: '0.05' } },
      ],
      sources: [{ name: 'V1', from: 'in', to: '0', volts: '12', ohms: '0.5' }],
    });
  });

  it.each([
    ['10k', 'R1 A B 10k'],
    ['10k 1%', 'R1 A B 10k 1%'],
    ['10k+4k7', 'R1 A 1 10k\nR2 1 B 4k7'],
    ['10k + (4k7 1% || 3k3)', 'R1 A 1 10k\nR2 1 B 4k7 1%\nR3 1 B 3k3'],
    ['1k || 2k + 3k || 4k', 'R1 A 1 1k\nR2 A 1 2k\nR3 1 B 3k\nR4 1 B 4k'],
    ['Rs=100 + ((1k + 2k) || Rp=3.3 k ± 2 %)', 'Rs A 1 100\nR2 1 2 1k\nR3 2 B 2k\nRp 1 B 3.3k 2%'],
    ['((((1k))))', 'R1 A B 1k'],
  ])('is short for series and parallel: %j', (shorthand, lines) => {
    expect(readNetwork(shorthand)).toEqual({ ...readNetwork(lines), between: ['A', 'B'] });
  });

  it.each([
    ['', 1, 'no resistor'],
    ['# nothing\n\n', 1, 'no resistor'],
    ['V1 a b 5V 1', 1, 'no resistor'],
    ['R1 a b 1k\nR2 b c', 2, 'a line is NAME NODE NODE VALUE'],
    ['R1 a b 1k\nR1 b c 2k', 2, 'R1 is there twice'],
    ['R1 a a 1k', 1, 'both ends'],
    ['R1 a b 4x7', 1, '"4x7" is not a resistance'],
    ['R1 a b 4k7 1', 1, '"1" is not a tolerance'],
    ['R1 a b 1k 5.. 1%', 1, 'not a tolerance'],
    ['R1 a b 1k\nbetween a z', 2, 'no node z'],
    ['between a\nR1 a b 1k', 1, '"between" takes two nodes'],
    ['between a b\nbetween a b\nR1 a b 1k', 2, 'says twice'],
    ['tolerance 1k to 2k\nR1 a b 1k', 1, 'limits are those of one resistor'],
    ['R1 a b 1k\nV1 a b 5 1', 2, 'a source is'],
    ['R1 a b 1k\nV1 a b 5V 0', 2, 'above 0'],
    ['10k + ', 1, 'missing at the end'],
    ['10k + || 4k7', 1, 'missing before'],
    ['(10k + 4k7', 1, 'not closed'],
    ['10k) + 4k7', 1, 'stands where'],
    ['R1=10k + R1=4k7', 1, 'R1 is there twice'],
    [`${'('.repeat(300)}1k${')'.repeat(300)}`, 1, 'brackets in each other'],
    [`R1 a ${'n'.repeat(50)} 1k`, 1, 'longer than 40'],
    [
      Array.from({ length: MOST_ELEMENTS + 1 }, (_, i) => `R${i} ${i} ${i + 1} 1`).join('\n'),
      MOST_ELEMENTS,
      'more than',
    ],
  ])('is refused where it is wrong, naming the line: %j', (text, line, why) => {
    try {
      readNetwork(text);
      expect.unreachable('it was read');
    } catch (thrown) {
      expect(thrown).toBeInstanceOf(Problem);
      expect(thrown).toMatchObject({ code: 'network-unreadable', what: expect.stringContaining(why) });
      expect((thrown as Problem).what).toMatch(new RegExp(`^Line ${line} of`));
    }
  });

  it('is read or refused, whatever is typed (property)', () => {
    const piece = fc.constantFrom(
      'R1',
      'a',
      ' ',
      '\n',
      '1k',
      '(',
      ')',
      '||',
      '+',
      '=',
      '1%',
      'V1',
      '5V',
      'tolerance',
      'between',
      '#',
      '0',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece).map((pieces) => pieces.join('')),
        ),
        (text) => {
          try {
            const network = readNetwork(text);
            for (const { from, to, ohms } of network.resistors) {
              expect(from).not.toBe(to);
              expect(Number(ohms)).toBeGreaterThanOrEqual(0);
            }
            for (const node of network.between ?? []) expect(nodesOf(network)).toContain(node);
          } catch (thrown) {
            if (!(thrown instanceof Problem)) throw thrown;
            expect(thrown.code).toBe('network-unreadable');
          }
        },
      ),
      { numRuns: 1000 },
    );
  });
});
