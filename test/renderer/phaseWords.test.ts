import { expect, it } from 'vitest';
import type { LivePhase } from '../../core/contract/contract.ts';
import { isUnderWay, phaseWords } from '../../renderer/hands/phaseWords.ts';

const PHASES: readonly LivePhase[] = ['armed', 'contact', 'settling', 'captured', 'open-said', 'waiting', 'off'];
const live = (phase: LivePhase) => ({ phase, by: 'hands' as const, steady: 2, of: 3, piece: 12 });
const NEXT = 13;

it('says each phase in other words, with what to do', () => {
  const said = PHASES.map((phase) => phaseWords(live(phase), NEXT));
  expect(new Set(said.map(({ large }) => large)).size).toBe(PHASES.length);
  for (const { toDo } of said) expect(toDo).toMatch(/\.$/);
  expect(phaseWords(live('settling'), NEXT).large).toBe('Settling 2 of 3');
  expect(phaseWords(live('captured'), NEXT).large).toBe('Captured: lift the probes');
});

it('is short enough for a line that is read from two metres', () => {
  for (const phase of PHASES) expect(phaseWords(live(phase), NEXT).large.length).toBeLessThanOrEqual(26);
});

it('puts the last reading away as soon as another piece is on the probes, and only then', () => {
  expect(PHASES.filter((phase) => isUnderWay(live(phase)))).toEqual(['contact', 'settling', 'open-said']);
  expect(isUnderWay(null)).toBe(false);
});

it('never says captured of a piece that was on the probes before anything counted', () => {
  expect(phaseWords(live('captured'), 12).large).toBe('Lift the probes');
});
