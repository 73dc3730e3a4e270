import { describe, expect, it } from 'vitest';
import { type StudyChoiceInput, studyChoice, turnsOf } from '../../../core/study/studyPlan.ts';

const crossed: StudyChoiceInput = {
  kind: 'study',
  design: 'crossed',
  pieces: 10,
  operators: ['Ana', 'Ben', 'Cleo'],
  repeats: 3,
  seed: 7,
};
const single: StudyChoiceInput = {
  ...crossed,
  design: 'single',
  pieces: 1,
  operators: ['Ana'],
  repeats: 6,
  sessions: 5,
};

const turns = (choice: StudyChoiceInput) => turnsOf(studyChoice.parse(choice));

describe('a study that is planned', () => {
  it('has a turn for every piece, operator, repeat, session and run', () => {
    expect(turns(crossed)).toBe(90);
    expect(turns({ ...crossed, pieces: 2, operators: ['Ana', 'Ben'], repeats: 2 })).toBe(8);
    expect(turns({ ...crossed, pieces: 50, operators: [...'ABCDEFGHIJ'], repeats: 20 })).toBe(10_000);
    expect(turns(single)).toBe(30);
    expect(turns({ ...single, runs: 2 })).toBe(60);
    expect(turns({ ...single, referenceOhms: '4700', referenceUncertaintyOhms: '0.05' })).toBe(30);
  });

  it.each<[string, StudyChoiceInput]>([
    ['one piece', { ...crossed, pieces: 1 }],
    ['51 pieces', { ...crossed, pieces: 51 }],
    ['one operator', { ...crossed, operators: ['Ana'] }],
    ['no operator', { ...crossed, operators: [] }],
    ['11 operators', { ...crossed, operators: [...'ABCDEFGHIJK'] }],
    ['one repeat', { ...crossed, repeats: 1 }],
    ['21 repeats', { ...crossed, repeats: 21 }],
    ['sessions of a crossed study', { ...crossed, sessions: 2 }],
    ['runs of a crossed study', { ...crossed, runs: 2 }],
    ['a negative seed', { ...crossed, seed: -1 }],
    ['a seed of more than 32 bits', { ...crossed, seed: 2 ** 32 }],
    ['two operators of a single-operator study', { ...single, operators: ['Ana', 'Ben'] }],
    ['no session', { ...single, sessions: 0 }],
    ['21 sessions', { ...single, sessions: 21 }],
    ['11 runs', { ...single, runs: 11 }],
    ['51 repeats', { ...single, repeats: 51 }],
    ['more turns than anybody measures', { ...single, pieces: 50, sessions: 20, repeats: 50 }],
  ])('is refused with %s', (_, choice) =>
    expect(() => turns(choice)).toThrowError(expect.objectContaining({ code: 'study-out-of-range' })),
  );

  it.each([[['Ana', 'ana']], [['Ana', ' Ana ']], [['Ana', ' ']], [['Jos\u00e9', 'Jose\u0301']]])(
    'is refused where operators cannot be told apart: %j',
    (operators) =>
      expect(() => turns({ ...crossed, operators })).toThrowError(
        expect.objectContaining({ code: 'study-operators-unclear' }),
      ),
  );

  it.each<[string, StudyChoiceInput]>([
    ['of a crossed study', { ...crossed, referenceOhms: '4700' }],
    ['of several pieces', { ...single, pieces: 2, referenceOhms: '4700' }],
    ['without value', { ...single, referenceUncertaintyOhms: '1' }],
    ['of nothing', { ...single, referenceOhms: '0' }],
    ['with a negative uncertainty', { ...single, referenceOhms: '1', referenceUncertaintyOhms: '-1' }],
  ])('is refused with a reference %s', (_, choice) =>
    expect(() => turns(choice)).toThrowError(expect.objectContaining({ code: 'study-reference-unfit' })),
  );

  it.each([
    { ...crossed, pieces: 2.5 },
    { ...crossed, seed: Number.NaN },
    { ...crossed, referenceOhms: '4k7' },
    { ...crossed, piecez: 3 },
    { ...crossed, design: 'nested' },
  ])('is refused by its form: %j', (choice) => expect(studyChoice.safeParse(choice).success).toBe(false));
});
