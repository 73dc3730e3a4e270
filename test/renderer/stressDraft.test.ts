import { describe, expect, it } from 'vitest';
import {
  ANOTHER_RUN,
  EMPTY_STRESS,
  type StressDraft,
  stressMissing,
  stressProblems,
  stressQuestion,
} from '../../renderer/stress/stressDraft.ts';

const csv = (text: string) => ({ from: 'file', run: '', typed: '', file: { name: 'a.csv', text } }) as const;
const FILLED: StressDraft = {
  ...EMPTY_STRESS,
  before: { from: 'run', run: '3', typed: '', file: null },
  after: csv('piece,ohms\n1,4701'),
  limit: '0.25 % + 0.05 ohm',
};

describe('the form of a comparison before and after a treatment', () => {
  it('asks the station once all is there, whoever makes it', () => {
    expect(stressQuestion(FILLED)).toEqual({
      before: { run: 3 },
      after: { name: 'a.csv', csv: 'piece,ohms\n1,4701' },
      treatment: 'heat',
      limit: '0.25 % + 0.05 ohm',
    });
    expect(Object.keys(stressMissing(FILLED))).toEqual(['by']);
    expect(stressQuestion(EMPTY_STRESS)).toBeNull();
  });

  it.each<[Partial<StressDraft>, keyof StressDraft]>([
    [{ before: csv('piece,ohms') }, 'before'],
    [{ after: csv('piece;ohms\n1;2') }, 'after'],
    [{ after: { from: 'run', run: '3', typed: '', file: null } }, 'after'],
    [{ limit: '0.25' }, 'limit'],
  ])('finds fault with %o at %s', (change, field) => {
    expect(Object.keys(stressProblems({ ...FILLED, ...change }))).toEqual([field]);
    expect(stressQuestion({ ...FILLED, ...change })).toBeNull();
  });

  it('takes a run that is not among the latest, by its number', () => {
    const typed = (number: string) => ({ from: 'run', run: ANOTHER_RUN, typed: number, file: null }) as const;
    expect(stressQuestion({ ...FILLED, after: typed(' 104 ') })?.after).toEqual({ run: 104 });
    expect(stressMissing({ ...FILLED, after: typed('') }).after).toBeDefined();
    for (const wrong of ['0', '1.5', 'L-7', '3']) {
      expect(stressProblems({ ...FILLED, after: typed(wrong) }).after, wrong).toBeDefined();
      expect(stressQuestion({ ...FILLED, after: typed(wrong) })).toBeNull();
    }
  });

  it('takes a treatment in own words, and asks for them', () => {
    const own = { ...FILLED, treatment: 'own', ownTreatment: ' salt mist ' } as const;
    expect(stressQuestion(own)?.treatment).toBe('salt mist');
    expect(stressMissing({ ...own, ownTreatment: ' ' }).ownTreatment).toBeDefined();
  });
});
