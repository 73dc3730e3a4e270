import { expect, it } from 'vitest';
import type { Explanation } from '../../core/network/explanations.ts';
import { explanationsOf } from '../../core/network/explanations.ts';
import { analyseNetwork } from '../../core/network/networkAnalysis.ts';
import { explanationsSentence, explanationWords } from '../../core/network/networkWords.ts';
import { readNetwork } from '../../core/network/readNetwork.ts';
import { alikeWords, changeText } from '../../renderer/network/faultWords.ts';
import { describedBy, MOST_IN_A_PAGE, readMeasured, terminalsOf } from '../../renderer/network/networkDraft.ts';
import { EXAMPLES } from '../../renderer/network/networkExamples.ts';
import { suspectsOf } from '../../renderer/network/suspects.ts';

const DIVIDER = 'R1 in mid 1k 1%\nR2 mid out 1k 1%';

it('reads a description, or says what is wrong and where', () => {
  expect(describedBy(' \n')).toEqual({ network: null, nodes: [], problem: null });
  expect(describedBy(DIVIDER).nodes).toEqual(['in', 'mid', 'out']);
  expect(describedBy('R1 in mid 1k\nR2 mid').problem).toMatch(/^Line 2 of the network: /);
  const many = Array.from({ length: MOST_IN_A_PAGE + 1 }, (_, index) => `R${index} a b 1k`).join('\n');
  expect(describedBy(many)).toMatchObject({ network: null, problem: expect.stringContaining('at most 3000') });
});

it('measures where it was chosen, else where the description says, else from the first node to the last', () => {
  const nowhere = { from: '', to: '' };
  expect(terminalsOf(describedBy(DIVIDER), nowhere)).toEqual(['in', 'out']);
  expect(terminalsOf(describedBy(`${DIVIDER}\nbetween mid in`), nowhere)).toEqual(['mid', 'in']);
  expect(terminalsOf(describedBy(DIVIDER), { from: 'mid', to: 'gone' })).toEqual(['mid', 'out']);
  expect(terminalsOf(describedBy(''), nowhere)).toBeNull();
});

it('reads what was measured', () => {
  expect(readMeasured({ measured: '4k7', uncertainty: '0.5' })).toEqual({
    measured: { ohms: 4700, expandedOhms: 0.5 },
    problems: {},
  });
  expect(readMeasured({ measured: ' Open ', uncertainty: '' }).measured?.ohms).toBe(Number.POSITIVE_INFINITY);
  expect(readMeasured({ measured: '', uncertainty: '1' }).measured).toBeNull();
  expect(readMeasured({ measured: '1', uncertainty: 'much' })).toMatchObject({
    measured: null,
    problems: { uncertainty: expect.stringContaining('much') },
  });
});

it.each(EXAMPLES.map(({ name, text }) => [name, text.join('\n')]))('%s can be read', (_, text) => {
  const described = describedBy(text);
  expect(described.problem).toBeNull();
  expect(described.network?.between).not.toBeNull();
});

it('says what explains a reading, and when it cannot tell', () => {
  const network = readNetwork('10k 1% + 10k 1%');
  const analysis = analyseNetwork(network, ['A', 'B']);
  const at = (ohms: number) => explanationsOf(network, analysis, { ohms, expandedOhms: 0 });
  expect(explanationsSentence(at(20_000))).toBe('A good network reads so: nothing need be wrong.');
  expect(explanationsSentence(at(100))).toBe('No single fault explains this reading.');
  expect(explanationsSentence(at(10_000))).toBe('This reading cannot tell between these 2.');
  expect([...suspectsOf(at(10_000))]).toEqual([
    ['R1', 'short?'],
    ['R2', 'short?'],
  ]);
  expect(suspectsOf(at(20_000)).size).toBe(0);
  const words = at(110_000).map((each) => explanationWords(each, network).replaceAll('\u00a0', ' '));
  expect(words).toEqual(['R1 is 100 kΩ instead of 10 kΩ', 'R2 is 100 kΩ instead of 10 kΩ']);
  const good: Explanation = { what: 'good', name: null, is: null, ohms: 1, lowest: 1, highest: 1 };
  const open: Explanation = { ...good, what: 'open', name: 'R1' };
  expect(explanationsSentence([open])).toBe('A single fault explains this reading.');
  expect(explanationsSentence([good, open])).toMatch(/^A good network may read so, and so may one .* shows\.$/);
  expect(explanationsSentence([good, open, open])).toMatch(/cannot tell between these 2\.$/);
});

it('says which faults read alike, and how far each moves the reading', () => {
  const { faults } = analyseNetwork(readNetwork('10k || 10k || 10k || 10k || 10k || 10k'), ['A', 'B']);
  const [open] = faults;
  if (!open) throw new Error('no fault');
  expect(alikeWords(faults)(open)).toBe('cannot be told apart from R2 open, R3 open, R4 open, R5 open and 1 more');
  expect(changeText(open, 10_000 / 6).replaceAll('\u00a0', ' ')).toBe('+333.3 Ω, +20.0 %');
  expect(changeText({ ...open, ohms: Number.POSITIVE_INFINITY }, 1000)).toBe('');
});
