import { describe, expect, it } from 'vitest';
import type { DecisionRule } from '../../core/window/decisionRule.ts';
import { guardBands } from '../../renderer/windowBar/guardBands.ts';
import { windowScale, within } from '../../renderer/windowBar/windowScale.ts';
import { acceptanceText, ruleWords } from '../../renderer/words/decision.ts';

const window = { nominal: '4700', lower: '4653', upper: '4747' };
const by = (rule: DecisionRule['rule'], guardFactor = '1'): DecisionRule => ({
  rule,
  guardFactor,
  processSpreadOhms: null,
});
const plain = (text: string | null) => text?.replaceAll('\u00a0', ' ') ?? null;

// ILAC-G8:09/2019, 4.2: w = r · U, acceptance limits A_L = T_L - w.
describe('guard bands as they are drawn', () => {
  it('are none with simple acceptance, and while U is not known', () => {
    expect(guardBands(window, { decision: by('simple-acceptance'), expandedOhms: '10' })).toEqual([]);
    expect(guardBands(window, { decision: by('guard-band'), expandedOhms: null })).toEqual([]);
    expect(guardBands(window, { decision: by('guard-band', '0'), expandedOhms: '10' })).toEqual([]);
  });

  it('lie within the limits by the guard-band rule', () => {
    expect(guardBands(window, { decision: by('guard-band'), expandedOhms: '10' })).toEqual([
      { from: 4653, to: 4663 },
      { from: 4737, to: 4747 },
    ]);
    // ISO 14253-1:2017: r = 0.83.
    expect(guardBands(window, { decision: by('guard-band', '0.83'), expandedOhms: '10' })[0]?.to).toBeCloseTo(
      4661.3,
      9,
    );
  });

  it('lie on both sides of each limit with conditional verdicts', () => {
    expect(guardBands(window, { decision: by('non-binary'), expandedOhms: '10' })).toEqual([
      { from: 4643, to: 4663 },
      { from: 4737, to: 4757 },
    ]);
  });

  it('have one limit where the window has one', () => {
    const jumper = { nominal: '0', lower: null, upper: '0.05' };
    const bands = guardBands(jumper, { decision: by('guard-band'), expandedOhms: '0.01' });
    expect(bands).toHaveLength(1);
    expect(bands[0]?.from).toBeCloseTo(0.04, 12);
    expect(bands[0]?.to).toBe(0.05);
  });

  it('share the window where they meet', () => {
    expect(guardBands(window, { decision: by('guard-band'), expandedOhms: '60' })).toEqual([
      { from: 4653, to: 4700 },
      { from: 4700, to: 4747 },
    ]);
  });

  it('end where the line ends', () => {
    expect(within(windowScale(window), { from: 4000, to: 4653 })).toEqual({ from: 0, to: 0.25 });
    expect(within(windowScale(window), { from: 4747, to: 9000 })).toEqual({ from: 0.75, to: 1 });
  });
});

describe('the rule in words', () => {
  it('says between which values a piece passes without condition', () => {
    expect(plain(acceptanceText(window, by('guard-band'), '10'))).toBe('4.663 kΩ to 4.737 kΩ');
    expect(plain(acceptanceText(window, by('non-binary', '0.83'), '10'))).toBe('4.6613 kΩ to 4.7387 kΩ');
    expect(acceptanceText(window, by('simple-acceptance'), '10')).toBeNull();
    expect(acceptanceText(window, by('guard-band'), null)).toBeNull();
  });

  it('does not invent a window where the guard bands leave none', () => {
    expect(acceptanceText(window, by('guard-band'), '60')).toContain('nowhere');
    // Where they just touch one value is left.
    expect(plain(acceptanceText(window, by('guard-band'), '47'))).toBe('4.7 kΩ to 4.7 kΩ');
  });

  it('names the width of the guard bands', () => {
    expect(plain(ruleWords(by('non-binary', '0.83')))).toBe('Guard bands of 0.83 U with conditional verdicts');
    expect(ruleWords(by('simple-acceptance'))).toBe('Simple acceptance');
  });
});
