import { describe, expect, it } from 'vitest';
import { biasWords, categoriesWords, gradeOfShare, shown, shownP, sourceWords } from '../../../core/study/words.ts';

describe('conclusions in words', () => {
  // Common practice: under 10 % good, 10 to 30 % it depends on the job, over 30 % not fit; at least 5 categories.
  it.each([
    [0, 'good'],
    [9.99, 'good'],
    [10, 'depends'],
    [30, 'depends'],
    [30.01, 'not-fit'],
    [250, 'not-fit'],
  ])('grade a share of %f %% as %s', (percent, grade) => expect(gradeOfShare(percent)).toBe(grade));

  it.each([
    [1, 'not-fit', 'cannot tell these pieces apart'],
    [4, 'not-fit', 'tells 4 groups apart among these pieces: too few'],
    [5, 'good', 'tells 5 groups apart among these pieces: enough'],
  ])('grade %i categories as %s', (categories, grade, words) =>
    expect(categoriesWords(categories)).toMatchObject({ grade, text: expect.stringContaining(words) }),
  );

  it('name the larger source', () => {
    expect(sourceWords(3, 1).text).toContain('(75 %) is repeatability');
    expect(sourceWords(1, 3).text).toContain('(75 %) is between operators');
  });

  it('call a bias shown only where its interval leaves zero out', () => {
    const bias = { biasOhms: -0.02, p: 0.03, interval: { lowerOhms: -0.038, upperOhms: -0.002 } };
    expect(biasWords(bias)).toMatchObject({
      grade: 'depends',
      text: 'The bias is -0.02 Ω (95 % interval -0.038 Ω to -0.002 Ω, p = 0.030): the readings lie off the reference value',
    });
    const none = { ...bias, p: 0.2, interval: { lowerOhms: -0.05, upperOhms: 0.01 } };
    expect(biasWords(none)).toMatchObject({ grade: 'open', text: expect.stringContaining('cannot be told from none') });
  });

  it('show three digits and no exponent people would not write', () => {
    expect([0, 18.9749, 0.000012345, 123456, -2.71499].map(shown)).toEqual(['0', '19', '0.0000123', '123000', '-2.71']);
    expect([0.0004, 0.25].map(shownP)).toEqual(['p < 0.001', 'p = 0.250']);
  });
});
