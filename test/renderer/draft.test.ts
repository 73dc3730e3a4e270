import { describe, expect, it } from 'vitest';
import { factsOf, lotClaim, withSeed } from '../../core/inspection/lotClaim.ts';
import { planSentence } from '../../core/sampling/planWords.ts';
import { type Draft, EMPTY_DRAFT, readDraft } from '../../renderer/receive/draft.ts';
import { EXAMPLE_LOT } from '../../renderer/receive/exampleLot.ts';

const full: Draft = { ...EXAMPLE_LOT, inspector: 'Ines Okoro' };
const problems = (over: Partial<Draft>) => readDraft({ ...full, ...over }).problems;

describe('the receiving form', () => {
  it('reads the example lot as the station does', () => {
    const read = readDraft(full);
    expect(read.problems).toEqual({});
    const facts = factsOf(withSeed(lotClaim.parse(read.claim), 7));
    expect(read.window).toEqual(facts.window);
    expect(read.plan).toEqual(facts.plan);
    // MIL-STD-105E: Table I, 3201 to 10 000 pieces at S-3, letter F; Table II-A, F at AQL 2.5, n 20, Ac 1, Re 2.
    expect(read.plan).toMatchObject({ codeLetter: 'F', planLetter: 'F', sampleSize: 20, accept: 1, reject: 2 });
  });

  it('asks for nothing of the rule, the temperature or the power of a usual lot', () => {
    const facts = factsOf(withSeed(lotClaim.parse(readDraft(full).claim), 7));
    expect(facts.decision).toEqual({ rule: 'simple-acceptance', guardFactor: '1', processSpreadOhms: null });
    expect(facts.temperature).toEqual({
      referenceCelsius: '20',
      coefficient: { kind: 'unknown' },
      thermometerKelvins: '1',
    });
    expect(facts.part.ratedWatts).toBeNull();
  });

  it('reads the rule, the temperature and the power as the station does', () => {
    const read = readDraft({
      ...full,
      rule: 'non-binary',
      guard: 'own',
      guardFactor: ' 1.2 ',
      processSpread: '0.3 %',
      referenceCelsius: '25',
      coefficient: 'known',
      knownPpm: '-20',
      knownWithinPpm: '5',
      thermometerKelvins: '0.5',
      ratedWatts: '0.25',
    });
    expect(read.problems).toEqual({});
    const facts = factsOf(withSeed(lotClaim.parse(read.claim), 7));
    expect(facts.decision).toEqual({ rule: 'non-binary', guardFactor: '1.2', processSpreadOhms: '14.1' });
    expect(read.decision).toEqual({ ...facts.decision, processSpreadOhms: null });
    expect(facts.temperature).toEqual({
      referenceCelsius: '25',
      coefficient: { kind: 'known', ppmPerKelvin: '-20', uncertaintyPpmPerKelvin: '5' },
      thermometerKelvins: '0.5',
    });
    expect(read.temperature).toEqual(facts.temperature);
    expect(facts.part.ratedWatts).toBe('0.25');
  });

  it('takes what was typed only for the choice it was typed for', () => {
    const over = {
      rule: 'simple-acceptance',
      guard: 'own',
      guardFactor: 'x',
      coefficient: 'limit',
      knownPpm: 'x',
    } as const;
    const read = readDraft({ ...full, ...over, limitPpm: '100' });
    expect(read.problems).toEqual({});
    expect(factsOf(withSeed(lotClaim.parse(read.claim), 7)).temperature.coefficient).toEqual({
      kind: 'limit',
      ppmPerKelvin: '100',
    });
  });

  it('says the window and the plan before everything else is filled in', () => {
    const read = readDraft({ ...EMPTY_DRAFT, nominal: '8R2', tolerance: '5 %', size: '5 000' });
    expect(read.window).toEqual({ nominal: '8.2', lower: '7.79', upper: '8.61' });
    // MIL-STD-105E: 5 000 at level II, letter L; AQL 1.0, n 200, Ac 5, Re 6.
    expect(read.plan).toMatchObject({ codeLetter: 'L', sampleSize: 200, accept: 5, reject: 6 });
    expect(Object.keys(read.problems).toSorted()).toEqual(['inspector', 'lotNumber', 'partNumber']);
  });

  it.each([
    [{ nominal: 'four' }, 'nominal', '"four" is not a resistance'],
    [{ tolerance: '1' }, 'tolerance', '"1" is not a tolerance'],
    [{ nominal: '' }, 'nominal', 'no nominal value'],
    [{ nominal: '0' }, 'tolerance', 'no window'],
    [{ tolerance: '4.8k to 4.6k' }, 'tolerance', 'not below its upper limit'],
    [{ size: '0' }, 'size', 'A lot of 0 pieces cannot be inspected'],
    [{ size: '12.5' }, 'size', 'A whole number of pieces'],
    [{ size: 'many' }, 'size', 'A whole number of pieces'],
    [{ planBy: 'agreed', sampleSize: '6000' }, 'sampleSize', 'larger than the lot of 5000'],
    [{ planBy: 'agreed', sampleSize: '' }, 'sampleSize', 'A whole number of pieces'],
    [{ planBy: 'agreed', sampleSize: '20', accept: '20' }, 'accept', 'not below the sample'],
    [{ inspector: ' ' }, 'inspector', 'Must not be empty'],
    [{ lotNumber: 'x'.repeat(201) }, 'lotNumber', 'At most 200 characters'],
    [{ supplier: 'two\u2028lines' }, 'supplier', 'One line of text'],
    [{ everyReadings: '0' }, 'everyReadings', 'from 1 to 1000'],
    [{ everyReadings: 'often' }, 'everyReadings', 'from 1 to 1000'],
    [{ everyMinutes: '1441' }, 'everyMinutes', 'from 1 to 1440'],
    [{ ambientLowest: 'cold' }, 'ambientLowest', 'degrees Celsius'],
    [{ ambientLowest: '28' }, 'ambientHighest', 'above the lower one'],
    [{ rule: 'guard-band', guard: 'own', guardFactor: 'wide' }, 'guardFactor', 'from 0 to 10'],
    [{ rule: 'non-binary', guard: 'own', guardFactor: '11' }, 'guardFactor', 'from 0 to 10'],
    [{ processSpread: 'narrow' }, 'processSpread', '"narrow" is not a process spread'],
    [{ nominal: '', tolerance: '4.6k to 4.8k', processSpread: '0.3 %' }, 'processSpread', 'is not a process spread'],
    [{ coefficient: 'known', knownPpm: '', knownWithinPpm: '5' }, 'knownPpm', 'ppm for each kelvin'],
    [{ coefficient: 'known', knownPpm: '-20', knownWithinPpm: '-5' }, 'knownWithinPpm', 'not negative'],
    [{ coefficient: 'limit', limitPpm: 'small' }, 'limitPpm', 'not negative'],
    [{ thermometerKelvins: '' }, 'thermometerKelvins', 'kelvins'],
    [{ ratedWatts: '0' }, 'ratedWatts', 'above 0'],
    [{ ratedWatts: 'quarter' }, 'ratedWatts', 'above 0'],
  ] as [Partial<Draft>, keyof Draft, string][])('puts the problem of %o beside its field', (over, field, text) => {
    const found = problems(over);
    expect(Object.keys(found)).toEqual([field]);
    expect(found[field]).toContain(text);
  });
});

describe('the plan in a sentence', () => {
  const sentence = (over: Partial<Draft>) => {
    const { plan, size } = readDraft({ ...full, ...over });
    return plan && size !== null ? planSentence(plan, size).replaceAll('\u00a0', ' ') : null;
  };

  it('says how many to measure and how many may be nonconforming', () => {
    // MIL-STD-105E: 5 000 at level I, letter J; AQL 1.0, n 80, Ac 2, Re 3.
    expect(sentence({ level: 'I', aql: '1.0' })).toBe(
      'Measure 80 of 5 000 pieces. 2 nonconforming pieces are accepted, 3 are not.',
    );
  });

  it('says so when every piece is measured, and when none may be nonconforming', () => {
    expect(sentence({ planBy: 'agreed', size: '12', sampleSize: '12', accept: '0' })).toBe(
      'Measure every piece: all 12 of the lot. No nonconforming piece is accepted.',
    );
    expect(sentence({ planBy: 'agreed', size: '1', sampleSize: '1', accept: '0' })).toBe(
      'Measure the only piece of the lot. No nonconforming piece is accepted.',
    );
  });
});
