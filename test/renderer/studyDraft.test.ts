import { describe, expect, it } from 'vitest';
import { lotClaim } from '../../core/inspection/lotClaim.ts';
import { EMPTY_STUDY, readStudyDraft, type StudyDraft } from '../../renderer/study/studyDraft.ts';

const FILLED: StudyDraft = {
  ...EMPTY_STUDY,
  inspector: 'Ines Okoro',
  name: 'study-2026-11-25',
  partNumber: 'TF-4K7-1',
  nominal: '4k7',
  tolerance: '1 %',
  operators: 'Ana, Ben, Caro',
  seed: '4294967295',
};

const problemsOf = (change: Partial<StudyDraft>) => readStudyDraft({ ...FILLED, ...change }).problems;

describe('the form of a study', () => {
  it('makes a claim the station takes, with as many pieces in the lot as the study has', () => {
    const { claim, choice, problems } = readStudyDraft(FILLED);
    expect(problems).toEqual({});
    expect(lotClaim.parse(claim).lot.size).toBe(10);
    expect(choice).toMatchObject({ operators: ['Ana', 'Ben', 'Caro'], pieces: 10, repeats: 3, seed: 4294967295 });
  });

  it('says what is missing of an empty form, beside each field, and throws at nothing', () => {
    expect(Object.keys(readStudyDraft({ ...EMPTY_STUDY, pieces: '', repeats: '' }).problems).sort()).toEqual(
      ['inspector', 'name', 'operators', 'partNumber', 'pieces', 'repeats', 'seed', 'tolerance'].sort(),
    );
  });

  it.each<[Partial<StudyDraft>, keyof StudyDraft]>([
    [{ pieces: '1' }, 'pieces'],
    [{ repeats: '1' }, 'repeats'],
    [{ operators: 'Ana' }, 'operators'],
    [{ operators: 'Ana, ana' }, 'operators'],
    [{ seed: '4294967296' }, 'seed'],
    [{ nominal: '4x7' }, 'nominal'],
    [{ tolerance: 'one' }, 'tolerance'],
    [{ design: 'single', operators: 'Ana, Ben' }, 'operators'],
    [{ design: 'single', operators: 'Ana', pieces: '2', reference: '100' }, 'reference'],
    [{ design: 'single', operators: 'Ana', pieces: '1', reference: '0' }, 'reference'],
    [{ design: 'single', operators: 'Ana', pieces: '1', referenceUncertainty: '0.1' }, 'reference'],
    [{ design: 'single', operators: 'Ana', pieces: '50', repeats: '50', sessions: '20' }, 'repeats'],
  ])('finds fault with %o at %s', (change, field) => {
    expect(Object.keys(problemsOf(change))).toEqual([field]);
  });

  it('takes the reference value of a single piece as ohms, and none from a crossed study', () => {
    const single = {
      design: 'single',
      operators: 'Ana',
      pieces: '1',
      reference: '4k7',
      referenceUncertainty: '2 m',
    } as const;
    expect(readStudyDraft({ ...FILLED, ...single }).choice).toMatchObject({
      referenceOhms: '4700',
      referenceUncertaintyOhms: '0.002',
    });
    expect(readStudyDraft({ ...FILLED, reference: '4k7' }).choice?.referenceOhms).toBeNull();
  });
});
