import { describe, expect, it } from 'vitest';
import { VERDICTS } from '../../core/window/judge.ts';
import { voiceOf } from '../../renderer/sound/speech.ts';
import { type SpokenReading, spokenReading } from '../../renderer/sound/spokenReading.ts';

const LOT = {
  window: { nominal: '4700', lower: '4653', upper: '4747' },
  plan: { choice: { kind: 'agreed', sampleSize: 5, accept: 0 } },
} as Parameters<typeof spokenReading>[1];
const STUDY = { ...LOT, plan: { choice: { kind: 'study' } } } as Parameters<typeof spokenReading>[1];

const READING: SpokenReading = {
  ohms: '4729.25',
  raw: '+4.72925E+03',
  verdict: 'pass',
  uncertainty: { expandedOhms: '1.3' },
};

describe('a reading that is spoken', () => {
  it.each([
    [READING, 'Pass. 4.73 kilo-ohms.'],
    [{ ...READING, uncertainty: { expandedOhms: '0.1' } }, 'Pass. 4.7293 kilo-ohms.'],
    [{ ...READING, uncertainty: null }, 'Pass. 4.7293 kilo-ohms.'],
    [{ ...READING, ohms: null, raw: '+9.9E+37', verdict: 'open' }, 'Open. Overload.'],
    [{ ...READING, ohms: '0.02', raw: '+2.0E-02', verdict: 'fail-low', uncertainty: null }, 'Fail low. 20 milli-ohms.'],
    [
      { ...READING, ohms: '12.5E6', raw: '+1.25E+07', verdict: 'fail-high', uncertainty: null },
      'Fail high. 12.5 mega-ohms.',
    ],
    [
      { ...READING, ohms: '-0.5', raw: '-5E-01', verdict: 'fail-low', uncertainty: null },
      'Fail low. minus 500 milli-ohms.',
    ],
  ] satisfies [SpokenReading, string][])('says verdict and value, %#', (reading, words) => {
    expect(spokenReading(reading, LOT)).toBe(words);
  });

  it('never says how a value stands in a study', () => {
    for (const verdict of VERDICTS) expect(spokenReading({ ...READING, verdict }, STUDY)).toBe('4.73 kilo-ohms.');
  });
});

describe('the voice', () => {
  const voice = (lang: string, localService: boolean, isDefault = false) => ({
    lang,
    localService,
    default: isDefault,
  });

  it('is an English one of this computer, its default first', () => {
    const other = voice('en-GB', true);
    const preferred = voice('en_AU', true, true);
    expect(voiceOf([voice('fr-FR', true, true), other, preferred])).toBe(preferred);
    expect(voiceOf([voice('fr-FR', true), other])).toBe(other);
  });

  it('is never one that sends the words away', () => {
    expect(voiceOf([voice('en-GB', false, true), voice('fr-FR', true)])).toBeNull();
    expect(voiceOf([])).toBeNull();
  });
});
