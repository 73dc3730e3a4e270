import { describe, expect, test } from 'vitest';
import { captureWords } from '../../../core/capture/captureWords.ts';
import { captureChoice, settingFor } from '../../../core/capture/setting.ts';
import { KINDS, type Kind } from './kinds.ts';
import { runOfKind } from './settingForKind.ts';

const named = (name: string) => KINDS.find((one) => one.name === name) as Kind;
const RUN = runOfKind(named('4.7 kΩ ±1 %'));
const quiet = (run = RUN, squares = 4e-4, degreesOfFreedom = 400) => ({
  ...run,
  scatter: { ...run.scatter, squares, degreesOfFreedom },
});

describe('the default setting', () => {
  test('has a band of a fiftieth of the tolerance where the meter is quiet: 0.94 Ω of 47 Ω', () => {
    expect(settingFor(quiet()).bandOhms).toBeCloseTo(0.94, 9);
    const wide = { ...quiet(), window: { nominal: '4700', lower: '4230', upper: '5170' } };
    expect(settingFor(wide).bandOhms).toBeCloseTo(9.4, 9);
  });

  test('follows the scatter of the reference: seven and four standard deviations, a little more for being estimated', () => {
    // 401 readings with a standard deviation of 1 Ω, of a reference that is not smaller than the window's limit; its upper
    // 99 % limit is the square root of 400 by the 1 % quantile of chi-square, 336 (Wilson and Hilferty).
    const run = { ...RUN, scatter: { squares: 400, degreesOfFreedom: 400, atOhms: '5000' } };
    const { bandOhms, driftOhms } = settingFor(run);
    const upper = Math.sqrt(400 / 335.8);
    expect(bandOhms / (7 * upper)).toBeCloseTo(1, 2);
    expect(driftOhms / (4 * upper)).toBeCloseTo(1, 2);
  });

  test('is never finer than the last digit can show', () => {
    const reference = RUN.reference && { ...RUN.reference, resolutionOhms: '10' };
    const { bandOhms, driftOhms } = settingFor({ ...quiet(), reference });
    expect(bandOhms).toBe(30);
    expect(driftOhms).toBe(20);
  });

  test('knows the sign by taps only where the window is far from what tips show', () => {
    expect(settingFor(RUN).shortOhms).toBeGreaterThan(1);
    expect(settingFor(runOfKind(named('0 Ω, at most 50 mΩ, by hand'))).shortOhms).toBeNull();
    expect(settingFor(runOfKind(named('1 Ω ±1 %, by hand'))).shortOhms).toBeNull();
  });

  test('gives high values more time to be off the probes and to settle', () => {
    const high = settingFor(runOfKind(named('100 MΩ ±10 %')));
    expect(high.releaseMilliseconds).toBeGreaterThan(settingFor(RUN).releaseMilliseconds * 4);
    expect(high.unsteadyMilliseconds).toBeGreaterThan(settingFor(RUN).unsteadyMilliseconds);
  });

  test('takes for the same again what differs by the drift, and never by more than a fiftieth of the tolerance', () => {
    const { sameOhms, driftOhms } = settingFor(quiet());
    expect(sameOhms).toBe(driftOhms);
    expect(settingFor({ ...quiet(), window: { nominal: '4700', lower: '4698', upper: '4702' } }).sameOhms).toBeCloseTo(
      0.04,
      9,
    );
    for (const kind of KINDS) {
      expect(settingFor(runOfKind(kind)).sameOhms).toBeLessThanOrEqual(kind.toleranceOhms * 0.02 + 1e-12);
    }
  });

  test('doubts for 0.15 s longer than the release, whatever that is', () => {
    expect(settingFor(RUN).doubtMilliseconds).toBe(300);
    expect(settingFor(RUN, { releaseMilliseconds: 400 }).doubtMilliseconds).toBe(550);
  });

  test('takes for a finger what is further beyond the window than its width, and no piece that is nearer', () => {
    expect(settingFor(runOfKind(named('1 MΩ ±1 %'))).nearOhms).toEqual({ from: 970_000, to: 1_030_000 });
    const oneSided = { ...RUN, window: { nominal: null, lower: '1000000', upper: null } };
    expect(settingFor(oneSided).nearOhms).toEqual({ from: 500_000, to: 2_000_000 });
  });

  test('asks for one reading more where a finger could pass for a piece', () => {
    expect(settingFor(RUN).settledReadings).toBe(3);
    expect(settingFor(runOfKind(named('1 MΩ ±1 %'))).settledReadings).toBe(4);
  });

  test('gives finite figures above zero for windows with one limit, without a meter and without readings', () => {
    for (const window of [
      { nominal: null, lower: '1000000', upper: null },
      { nominal: null, lower: null, upper: '0.05' },
      { nominal: '0', lower: '-0.05', upper: '0.05' },
    ]) {
      const scatter = { squares: 0, degreesOfFreedom: 0, atOhms: '0' };
      const setting = settingFor({ window, scatter, meter: null, reference: null, shortedOhms: null });
      for (const [name, value] of Object.entries(setting)) {
        if (typeof value === 'number') expect([name, value > 0 && Number.isFinite(value)]).toEqual([name, true]);
      }
    }
  });

  test('lets a slow meter take its time', () => {
    expect(settingFor(RUN, {}, 400).silenceMilliseconds).toBe(1200);
    expect(settingFor(RUN, {}, 40).silenceMilliseconds).toBe(500);
  });
});

test('what a person chooses holds instead', () => {
  const choice = captureChoice.parse({
    settledReadings: 5,
    releaseMilliseconds: 300,
    openDwellMilliseconds: 2000,
    bandPercent: 10,
  });
  expect(settingFor(quiet(), choice)).toMatchObject({
    settledReadings: 5,
    releaseMilliseconds: 300,
    openDwellMilliseconds: 2000,
    bandOhms: 4.7,
  });
});

test.each([
  { settledReadings: 2 },
  { releaseMilliseconds: 0 },
  { bandPercent: 0 },
  { bandPercent: Number.NaN },
  { other: 1 },
])('a choice that cannot work is refused: %j', (choice) => {
  expect(captureChoice.safeParse(choice).success).toBe(false);
});

describe('the words', () => {
  test.each(KINDS)('say every parameter of $name', (kind) => {
    const words = captureWords(settingFor(runOfKind(kind)));
    expect(words).toHaveLength(11);
    expect(words.join(' ')).not.toMatch(/NaN|undefined|null|Infinity/);
  });

  test.each(['4.7 kΩ ±1 %', '100 MΩ ±10 %'])('change with each parameter: %s', (name) => {
    const setting = settingFor(runOfKind(named(name)));
    const isHigh = name !== '4.7 kΩ ±1 %';
    const said = captureWords(setting).join(' ');
    for (const [name, value] of Object.entries(setting)) {
      // Where "near the window" ends is of no use to a person; that a finger is told from a piece is said.
      if (typeof value !== 'number') continue;
      // What low values charge is too quick to be said.
      if (!isHigh && (name === 'chargingMilliseconds' || name === 'openingMilliseconds')) continue;
      const other = captureWords({ ...setting, [name]: value * 3 }).join(' ');
      expect([name, other !== said]).toEqual([name, true]);
    }
  });
});
