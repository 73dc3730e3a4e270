import { describe, expect, it } from 'vitest';
import { biasOf } from '../../../core/study/bias.ts';
import type { SingleReading } from '../../../core/study/reading.ts';
import { singleStudy } from '../../../core/study/single.ts';
import { type Day, READINGS_A_DAY, resistivity } from './resistivity.ts';

const none = { window: null, reference: null };

/** Six readings with exactly this mean and standard deviation; which ones they were is not published. */
function readingsOfDay({ mean, sd }: Day): string[] {
  const around = sd * Math.sqrt((READINGS_A_DAY - 1) / READINGS_A_DAY);
  return Array.from({ length: READINGS_A_DAY }, (_, index) =>
    (Number(mean) + (index % 2 === 0 ? around : -around)).toFixed(12),
  );
}

function studyOfProbe(days: readonly Day[]): SingleReading[] {
  const first = Math.min(...days.map(({ run }) => run));
  return days.flatMap((day) =>
    readingsOfDay(day).map((ohms, index) => ({
      piece: day.wafer,
      run: day.run - first + 1,
      session: day.day,
      repeat: index + 1,
      ohms,
    })),
  );
}

describe('NIST/SEMATECH e-Handbook 2.6.1 (MPC61.DAT), levels 1 to 3 of five probes', () => {
  const days = resistivity();

  // Shared check values, section 4.5 (recomputed from the published data).
  it.each([
    ['1', [0.095182, 0.088913], [0.046403, 0.048236], 0.047329, 0.0282],
    ['281', [0.103182, 0.11783], [0.036001, 0.051247], 0.044285, 0.032347],
    ['283', [0.090463, 0.09393], [0.050279, 0.040596], 0.045694, 0.03935],
    ['2062', [0.105014, 0.187563], [0.049503, 0.064545], 0.057518, 0.07334],
    ['2362', [0.067509, 0.077857], [0.033337, 0.038794], 0.036168, 0.019645],
  ] as const)('are those of probe %s', (probe, level1, level2, both, level3) => {
    if (!days) return;
    const ofProbe = days.filter((day) => day.probe === probe);
    for (const run of [1, 2]) {
      const study = singleStudy(studyOfProbe(ofProbe.filter((day) => day.run === run)), none);
      expect(study.repeatability.df).toBe(150);
      expect(study.repeatability.sdOhms).toBeCloseTo(level1[run - 1] ?? 0, 6);
      expect(study.dayToDay?.df).toBe(25);
      expect(study.dayToDay?.sdOhms).toBeCloseTo(level2[run - 1] ?? 0, 6);
      expect(study.runToRun).toBeNull();
    }
    const study = singleStudy(studyOfProbe(ofProbe), none);
    expect(study).toMatchObject({ runs: 2, sessions: 6, repeats: 6 });
    expect(study.dayToDay?.df).toBe(50);
    expect(study.dayToDay?.sdOhms).toBeCloseTo(both, 6);
    expect(study.runToRun?.df).toBe(5);
    expect(study.runToRun?.sdOhms).toBeCloseTo(level3, 6);
  });

  // Printed in MPC633M.DAT: 0.0710 (300 df), 0.0362 (50 df), 0.0197 (5 df). The first does not follow from the published data
  // (0.072867 does) and the third is one unit high, so these are a loose check only, within 3 %.
  it('are near those printed for probe 2362', () => {
    if (!days) return;
    const study = singleStudy(studyOfProbe(days.filter(({ probe }) => probe === '2362')), none);
    expect(study.repeatability.df).toBe(300);
    expect(study.repeatability.sdOhms).toBeCloseTo(0.072867, 6);
    expect(study.repeatability.sdOhms / 0.071).toBeCloseTo(1, 1);
    expect(study.dayToDay?.sdOhms).toBeCloseTo(0.0362, 4);
    expect(Math.abs((study.runToRun?.sdOhms ?? 0) - 0.0197)).toBeLessThanOrEqual(0.0001);
    const [s1, s2, s3] = [0.072867, 0.036168, 0.019645];
    expect(study.oneReading.sdOhms).toBeCloseTo(Math.sqrt(s3 ** 2 + (5 / 6) * s2 ** 2 + (5 / 6) * s1 ** 2), 5);
  });

  // Shared check values, section 4.5: mean of the ten differences, their standard deviation and standard error (computed there).
  it('give the bias of probe 2362', () => {
    const differences = [
      -0.03722, -0.0094, -0.02607, -0.02519, -0.03827, -0.05075, -0.06567, -0.0398, -0.05337, -0.04689,
    ];
    const bias = biasOf(differences, 0);
    expect(bias.biasOhms).toBeCloseTo(-0.039265, 5);
    expect(bias.uncertaintyOhms).toBeCloseTo(0.005116, 6);
    expect(bias.df).toBe(9);
    expect(bias.p).toBeLessThan(0.001);
  });
});

describe('a single-operator study of one piece with a known value', () => {
  const values = ['100.02', '100.05', '99.99', '100.03', '100.04', '100.01'];
  const readings: SingleReading[] = values.map((ohms, index) => ({
    piece: '1',
    run: 1,
    session: 1,
    repeat: index + 1,
    ohms,
  }));

  // Invented readings; figures computed independently with scipy 1.17 (ttest_1samp, t.interval).
  it('has the bias with its t test', () => {
    const { bias, conclusions, notes } = singleStudy(readings, {
      window: { lower: '99', upper: '101' },
      reference: { ohms: '100', uncertaintyOhms: null },
    });
    expect(bias?.biasOhms).toBeCloseTo(0.0233333333333, 12);
    expect(bias?.meanOhms).toBeCloseTo(100.0233333333333, 11);
    expect(bias?.uncertaintyOhms).toBeCloseTo(0.008819171036882543, 12);
    expect(bias?.t).toBeCloseTo(2.645751311064429, 9);
    expect(bias?.p).toBeCloseTo(0.04565912378142052, 9);
    expect(bias?.interval?.lowerOhms).toBeCloseTo(0.000662932460553281, 9);
    expect(bias?.interval?.upperOhms).toBeCloseTo(0.046003734206113575, 9);
    expect(bias?.percentOfTolerance).toBeCloseTo(1.16666666667, 9);
    expect(conclusions.map(({ about }) => about)).toEqual(['tolerance', 'bias']);
    expect(conclusions[1]?.text).toContain('lie off the reference value');
    expect(notes.join('\n')).toContain('uncertainty of the reference is not known');
  });

  it('takes the uncertainty of the reference in: the same bias is not proven any more', () => {
    const { bias, conclusions } = singleStudy(readings, {
      window: null,
      reference: { ohms: '100', uncertaintyOhms: '0.02' },
    });
    expect(bias?.uncertaintyOhms).toBeCloseTo(0.013333333333333714, 12);
    expect(bias?.df).toBeCloseTo(26.122448979588018, 8);
    expect(bias?.p).toBeCloseTo(0.0918580153826107, 8);
    expect(bias?.interval?.lowerOhms).toBeCloseTo(-0.004067474563568391, 9);
    expect(bias?.interval?.upperOhms).toBeCloseTo(0.050734141230235244, 9);
    expect(conclusions[0]?.text).toContain('cannot be told from none');
  });

  // Sample standard deviation 0.0216025 (scipy), interval by chi-squared with 5 degrees of freedom: 12.8325 and 0.831212
  // (upper and lower 2.5 % points, standard tables).
  it('has the repeatability with its interval and its share of tolerance', () => {
    const study = singleStudy(readings, { window: { lower: '99', upper: '101' }, reference: null });
    expect(study.repeatability.df).toBe(5);
    expect(study.repeatability.sdOhms).toBeCloseTo(0.0216025, 7);
    expect(study.repeatabilityInterval.lowerOhms).toBeCloseTo(0.0216025 * Math.sqrt(5 / 12.8325), 6);
    expect(study.repeatabilityInterval.upperOhms).toBeCloseTo(0.0216025 * Math.sqrt(5 / 0.831212), 6);
    expect(study.oneReading).toEqual(study.repeatability);
    expect(study.percentOfTolerance).toBeCloseTo((100 * 6 * 0.0216025) / 2, 4);
    expect(study.conclusions[0]).toMatchObject({ about: 'tolerance', grade: 'good' });
    expect(study.notes.join('\n')).toContain('One session only');
    expect(study.bias).toBeNull();
  });

  it('keeps the digits of a bias far smaller than the value', () => {
    const far = readings.map((reading) => ({
      ...reading,
      ohms: `47000000.000000${reading.ohms.replace('.', '').padStart(5, '0')}`,
    }));
    const { bias } = singleStudy(far, {
      window: null,
      reference: { ohms: '47000000.00000010000', uncertaintyOhms: null },
    });
    expect((bias?.biasOhms ?? 0) * 1e9).toBeCloseTo(0.0233333333333, 9);
  });

  it('bases the bias on session means where there are sessions', () => {
    const sessions = readings.map((reading, index) => ({
      ...reading,
      session: (index % 3) + 1,
      repeat: index < 3 ? 1 : 2,
    }));
    const study = singleStudy(sessions, { window: null, reference: { ohms: '100', uncertaintyOhms: '0' } });
    // Means of (100.02, 100.03), (100.05, 100.04), (99.99, 100.01): 0.025, 0.045, 0 above 100.
    expect(study.bias?.biasOhms).toBeCloseTo(0.07 / 3, 12);
    const squares = (0.025 - 0.07 / 3) ** 2 + (0.045 - 0.07 / 3) ** 2 + (0.07 / 3) ** 2;
    expect(study.bias?.uncertaintyOhms).toBeCloseTo(Math.sqrt(squares / 2 / 3), 12);
    expect(study.bias?.df).toBe(2);
    // s1² from differences 0.01, 0.01, 0.02 within sessions: (0.0001 + 0.0001 + 0.0004) / 2 / 3.
    expect(study.repeatability.sdOhms ** 2).toBeCloseTo(0.0001, 12);
    expect(study.sessionsDiffer?.f).toBeCloseTo((2 * squares) / 2 / 0.0001, 8);
    expect(study.bySession.map(({ readings: { length } }) => length)).toEqual([2, 2, 2]);
  });

  it.each([
    ['study-without-spread', readings.map((reading) => ({ ...reading, ohms: '100' }))],
    ['study-one-repeat', readings.map((reading, index) => ({ ...reading, repeat: 1, session: index + 1 }))],
    ['study-reading-twice', [...readings, ...readings.slice(2, 3)]],
    ['study-readings-missing', [...readings, { piece: '2', run: 1, session: 1, repeat: 1, ohms: '99' }]],
    ['study-readings-missing', []],
    ['study-out-of-range', [...readings, { piece: '1', run: 0, session: 1, repeat: 7, ohms: '99' }]],
  ])('is refused: %s', (code, of) =>
    expect(() => singleStudy(of, none)).toThrowError(expect.objectContaining({ code })),
  );

  it('is refused with a reference for several pieces', () => {
    const two = [...readings, ...readings.map((reading) => ({ ...reading, piece: '2' }))];
    expect(() => singleStudy(two, { window: null, reference: { ohms: '100', uncertaintyOhms: null } })).toThrowError(
      expect.objectContaining({ code: 'study-reference-unfit' }),
    );
  });

  it('gives no test of a bias where nothing at all differs between sessions', () => {
    const alike = ['99', '101', '99', '101'].map((ohms, index) => ({
      piece: '1',
      run: 1,
      session: index < 2 ? 1 : 2,
      repeat: (index % 2) + 1,
      ohms,
    }));
    const { bias, conclusions } = singleStudy(alike, {
      window: null,
      reference: { ohms: '100', uncertaintyOhms: null },
    });
    expect(bias).toMatchObject({ biasOhms: 0, t: null, p: null, interval: null });
    expect(conclusions.find(({ about }) => about === 'bias')?.text).toContain('no test');
  });
});
