import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ARMED, notCounted, sayOpen, take } from '../../../core/capture/capture.ts';
import type { CaptureSetting } from '../../../core/capture/setting.ts';
import type { StreamReading } from './circuit.ts';
import { Dice } from './dice.ts';
import { capturesIn, play } from './play.ts';

/** A 10 kΩ range for pieces of about 4.7 kΩ, every figure written out. */
const SETTING: CaptureSetting = {
  settledReadings: 3,
  bandOhms: 1,
  driftOhms: 0.4,
  releaseMilliseconds: 150,
  doubtMilliseconds: 300,
  sameOhms: 0.3,
  openDwellMilliseconds: 1000,
  shortOhms: 2,
  shortMilliseconds: 500,
  tapsMilliseconds: 1500,
  tapPauseMilliseconds: 400,
  farOhms: 12_000,
  handOhms: 50_000,
  nearOhms: { from: 2300, to: 9500 },
  handMilliseconds: 800,
  changeOhms: 3,
  unsteadyMilliseconds: 5000,
  silenceMilliseconds: 500,
  readingMilliseconds: 50,
  chargingMilliseconds: 0.005,
  openingMilliseconds: 0.01,
};
const INTERVAL = 50;

/** Readings that come evenly, `null` for overload. */
function evenly(...parts: readonly (readonly (number | null)[])[]): StreamReading[] {
  return parts.flat().map((ohms, index) => ({ atMilliseconds: 1000 + index * INTERVAL, ohms }));
}

function times<T>(count: number, value: T): T[] {
  return Array.from({ length: count }, () => value);
}

const open = (readings: number) => times(readings, null);
const APART = open(6);
const PIECE = [4700.1, 4700.0, 4700.1];

function kinds(readings: StreamReading[], says: number[] = []): string[] {
  return play(readings, SETTING, says).happened.map(({ outcome }) =>
    outcome.kind === 'trouble' ? outcome.why : outcome.kind,
  );
}

describe('a piece', () => {
  test('is captured once, by the reading that settles, and the next one after a release', () => {
    expect(kinds(evenly(APART, PIECE, times(20, 4700), APART, PIECE, APART))).toEqual([
      'contact',
      'captured',
      'released',
      'contact',
      'captured',
      'released',
    ]);
  });

  test('that lies on the probes at the beginning counts only after it was lifted', () => {
    const already = play(evenly(times(40, 4700)), SETTING);
    expect(already.happened).toEqual([]);
    expect(already.last).toMatchObject({ phase: 'captured', heldOhms: null });
    expect(kinds(evenly(times(40, 4700), APART, PIECE))).toEqual(['released', 'contact', 'captured']);
  });

  test('that contact comes and goes with every reading never counts, and is called unsteady once', () => {
    expect(kinds(evenly(APART, ...times(120, [4700, null])))).toEqual(['contact', 'unsteady']);
  });

  test('with an overload in the middle of settling begins to settle anew', () => {
    expect(kinds(evenly(APART, [4700, 4700, null, 4700, 4700]))).toEqual(['contact']);
    expect(kinds(evenly(APART, [4700, 4700, null, 4700, 4700, 4700]))).toEqual(['contact', 'captured']);
  });

  test('whose value drifts through the band does not count while it drifts', () => {
    const drifting = times(200, 0).map((_, index) => 4600 + index * 0.45);
    expect(kinds(evenly(APART, drifting))).toEqual(['contact', 'unsteady']);
  });

  test('that begins to slip in its last reading waits for another', () => {
    expect(kinds(evenly(APART, [4700, 4700.02, 4700.8]))).toEqual(['contact']);
  });

  test('lifted before it counts is told', () => {
    expect(kinds(evenly(APART, [4700, 4700], APART))).toEqual(['contact', 'lifted-too-soon']);
    expect(kinds(evenly(APART, [4700], APART))).toEqual(['contact', 'released']);
  });

  describe('that reads the same as the one before', () => {
    const lifted = (readings: number) => [PIECE, open(readings), PIECE, APART];

    test('after leads that were open for less than the doubt may be it again, slipped: told, and not counted', () => {
      expect(kinds(evenly(APART, ...lifted(4)))).toEqual([
        'contact',
        'captured',
        'released',
        'contact',
        'same-again',
        'released',
      ]);
      expect(kinds(evenly(APART, ...lifted(5)))).toContain('same-again');
    });

    test('counts when it is lifted for longer and put on again, and at once when it was off for longer', () => {
      expect(capturesIn(play(evenly(APART, ...lifted(4), PIECE), SETTING).happened)).toHaveLength(2);
      expect(kinds(evenly(APART, ...lifted(6)))).toEqual([
        'contact',
        'captured',
        'released',
        'contact',
        'captured',
        'released',
      ]);
    });

    test('is told again for as long as it keeps slipping', () => {
      const slips = times(5, [open(4), PIECE]).flat();
      const said = kinds(evenly(APART, PIECE, ...slips));
      expect(said.filter((each) => each === 'captured')).toHaveLength(1);
      expect(said.filter((each) => each === 'same-again')).toHaveLength(5);
    });

    test('and another piece does not have to wait', () => {
      expect(kinds(evenly(APART, PIECE, open(4), times(3, 4700.5)))).not.toContain('same-again');
    });

    test('counts when the one before did not count after all', () => {
      const { last } = play(evenly(APART, PIECE), SETTING);
      let capture = notCounted(last);
      const after = evenly(APART, PIECE, open(4), PIECE).slice(APART.length + PIECE.length);
      const outcomes = after.map((reading) => {
        const taken = take(capture, reading, SETTING);
        capture = taken.capture;
        return taken.outcome?.kind;
      });
      expect(outcomes).toContain('captured');
    });
  });

  test('that is changed for another without the leads open is trouble once and does not count', () => {
    expect(kinds(evenly(APART, PIECE, times(5, 4700), times(30, 4720)))).toEqual([
      'contact',
      'captured',
      'changed-without-release',
    ]);
    expect(kinds(evenly(APART, PIECE, [null, null], times(30, 4720)))).toContain('changed-without-release');
  });

  test('that takes the place of another too quickly for a release is told as soon as it differs by more than the drift', () => {
    // Three readings open, 100 ms: a slip as well. Nothing has to be far away then, as a contact that only moves may be.
    expect(kinds(evenly(APART, PIECE, open(3), times(5, 4700.6)))).toContain('changed-without-release');
    expect(kinds(evenly(APART, PIECE, open(3), times(5, 4700.3)))).not.toContain('changed-without-release');
    expect(kinds(evenly(APART, PIECE, times(5, 4700.5)))).not.toContain('changed-without-release');
    // Compared once: what moves later was not changed then.
    expect(kinds(evenly(APART, PIECE, open(3), times(3, 4700.2), times(9, 4700.6)))).not.toContain(
      'changed-without-release',
    );
  });

  test('far outside counts as well: low at once, high when no finger stays so still', () => {
    expect(kinds(evenly(APART, times(3, 47)))).toEqual(['contact', 'captured']);
    expect(kinds(evenly(APART, times(16, 1e6)))).toEqual(['contact']);
    expect(kinds(evenly(APART, times(17, 1e6)))).toEqual(['contact', 'captured']);
  });

  test('shorted counts when it is held, and is told when it is lifted too soon', () => {
    expect(kinds(evenly(APART, times(11, 0.1)))).toEqual(['contact', 'captured']);
    expect(kinds(evenly(APART, times(6, 0.1), open(40)))).toEqual(['contact', 'released', 'lifted-too-soon']);
  });

  test('of no ohms counts at once where the window is at zero', () => {
    const { happened } = play(evenly(APART, times(3, 0)), { ...SETTING, shortOhms: null });
    expect(capturesIn(happened)).toHaveLength(1);
  });

  test('is released by a finger that takes its place, for a finger is no piece of 4.7 kΩ', () => {
    const finger = [9e5, 1.1e6, 8e5, 1.3e6, 1e6];
    expect(kinds(evenly(APART, PIECE, finger, APART, PIECE))).toEqual([
      'contact',
      'captured',
      'released',
      'contact',
      'released',
      'contact',
      'captured',
    ]);
  });
});

describe('a meter that takes long for some readings', () => {
  const slow = (values: (number | null)[]) =>
    values.map((ohms, index) => ({
      atMilliseconds: 2000 + (index + 1) * 900,
      ohms,
      begunMilliseconds: 2000 + index * 900 + 10,
    }));

  test('is not silent while it is at them: they settle, release, and count as open', () => {
    const above = [...evenly(APART), ...slow([...times(6, 1e6), null, null, null])];
    expect(kinds(above)).toEqual(['contact', 'captured', 'released']);
    expect(kinds([...evenly(APART), ...slow([null, null, null, null])], [2100])).toEqual(['captured-open']);
  });

  test('is silent where it was not at them', () => {
    const late = slow(times(6, 1e6)).map(({ begunMilliseconds: _, ...reading }) => reading);
    expect(kinds([...evenly(APART), ...late])).not.toContain('captured');
  });
});

describe('a meter that is busy', () => {
  const later = (milliseconds: number, values: (number | null)[], from: number) =>
    values.map((ohms, index) => ({ atMilliseconds: from + milliseconds + index * INTERVAL, ohms }));

  test('leaves no evidence from before: readings do not settle across the time, nor is it a release', () => {
    const before = evenly(APART, [4700, 4700]);
    const settled = [...before, ...later(700, [4700], before.at(-1)?.atMilliseconds as number)];
    expect(kinds(settled)).toEqual(['contact']);
    const held = evenly(APART, PIECE, [null]);
    const slipped = [...held, ...later(700, [null, 4700, 4700, 4700], held.at(-1)?.atMilliseconds as number)];
    expect(kinds(slipped)).toEqual(['contact', 'captured']);
  });

  test('and a clock that stands still or goes back settle nothing', () => {
    const readings = evenly(APART, PIECE).map((reading, index) => ({ ...reading, atMilliseconds: 9000 - index * 10 }));
    expect(kinds(readings)).toEqual([]);
  });
});

test('a piece that was changed while the meter was busy is told as soon as it differs by more than the drift', () => {
  const busy = (ohms: number) =>
    times(5, ohms).map((value, index) => ({ atMilliseconds: 2500 + index * INTERVAL, ohms: value }));
  expect(kinds([...evenly(APART, PIECE), ...busy(4700.6)])).toContain('changed-without-release');
  expect(kinds([...evenly(APART, PIECE), ...busy(4700.2)])).not.toContain('changed-without-release');
});

describe('what is no number settles nothing', () => {
  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('%s', (ohms) => {
    expect(capturesIn(play(evenly(APART, times(30, ohms)), SETTING).happened)).toEqual([]);
    expect(kinds(evenly(APART, [4700, ohms, 4700, 4700, 4700]))).toEqual(['contact', 'captured']);
  });
});

describe('a piece that is open', () => {
  const TAP = times(3, 0.2);
  const TAPS = [...TAP, ...open(4), ...TAP];

  test('counts a second after two taps of the tips', () => {
    expect(kinds(evenly(APART, TAPS, open(20)))).not.toContain('captured-open');
    const whole = kinds(evenly(APART, TAPS, open(21)));
    expect(whole.slice(-2)).toEqual(['open-said', 'captured-open']);
    expect(kinds(evenly(APART, TAPS, open(200)))).toEqual(whole);
  });

  test('counts a second after the key, once for each time it was said', () => {
    expect(kinds(evenly(open(60)), [1500])).toEqual(['captured-open']);
    expect(kinds(evenly(open(60)), [1500, 1600])).toEqual(['captured-open']);
    expect(kinds(evenly(open(100)), [1500, 3000])).toEqual(['captured-open', 'captured-open']);
    expect(kinds(evenly(open(100)))).toEqual([]);
  });

  test('counts as it reads if something conducts after all', () => {
    expect(kinds(evenly(open(12), PIECE, open(40)), [1500])).toEqual(['contact', 'captured', 'released']);
    expect(kinds(evenly(APART, TAPS, open(10), PIECE, open(40)))).not.toContain('captured-open');
  });

  test('and conducts before anybody could have changed it is told, and not counted as the next one', () => {
    const counted = evenly(open(60), PIECE, APART, PIECE).map((reading, index) => ({
      ...reading,
      atMilliseconds: 1000 + index * INTERVAL,
    }));
    // Said so late that it counts three readings before something conducts.
    const said = kinds(counted, [2850]);
    expect(said).toEqual(['captured-open', 'contact', 'open-conducts', 'released', 'contact', 'captured']);
    expect(kinds(counted, [2550])).toEqual(['captured-open', 'contact', 'captured', 'released', 'contact', 'captured']);
  });

  test('is taken back by one tap more', () => {
    const said = kinds(evenly(APART, TAPS, open(10), TAP, open(60)));
    expect(said).toContain('open-said');
    expect(said).not.toContain('captured-open');
    expect(play(evenly(open(10), TAP, open(60)), SETTING, [1400]).last.saidOpenAt).toBeNull();
  });

  test('is not said by one tap, by one bouncing touch, by taps around a piece or by slow ones', () => {
    for (const touches of [[TAP], [TAP, [null], TAP], [TAP, APART, PIECE, APART, TAP], [TAP, open(40), TAP]]) {
      expect(kinds(evenly(APART, ...touches, open(40)))).not.toContain('open-said');
    }
  });

  test('is not said of a piece that was captured and still conducts', () => {
    expect(kinds(evenly(APART, PIECE, times(10, 4700), open(60)), [1600])).not.toContain('captured-open');
  });
});

/** Anything that may come from a meter, in stretches. */
const stretch = fc.record({
  what: fc.constantFrom('open', 'open', 'open', 'piece', 'piece', 'other', 'finger', 'short', 'film', 'ramp'),
  readings: fc.integer({ min: 1, max: 25 }),
  interval: fc.constantFrom(20, 40, 50, 120, 700),
});

function readingsOf(stretches: { what: string; readings: number; interval: number }[], seed: number): StreamReading[] {
  const dice = new Dice(seed);
  let at = 0;
  return stretches.flatMap(({ what, readings, interval }) =>
    times(readings, 0).map((_, index) => {
      at += interval * dice.between(0.9, 1.1);
      const noise = dice.normal(0.1);
      const ohms = {
        open: null,
        piece: 4700 + noise,
        other: 4690 + noise,
        finger: 1e6 * Math.exp(dice.normal(0.05)),
        short: 0.1 + noise,
        film: 4700 * dice.between(1, 1.05),
        ramp: 4650 + index * 2 + noise,
      }[what] as number | null;
      return { atMilliseconds: at, ohms };
    }),
  );
}

const anyStream = fc
  .tuple(fc.array(stretch, { maxLength: 30 }), fc.integer({ min: 1, max: 1e6 }))
  .map(([stretches, seed]) => readingsOf(stretches, seed));
const anySays = fc
  .array(fc.integer({ min: 0, max: 20_000 }), { maxLength: 3 })
  .map((says) => says.sort((a, b) => a - b));

/** The longest time for which readings up to this one were one after the other what `is` says. */
function stretchBefore(readings: readonly StreamReading[], end: number, is: (one: StreamReading) => boolean): number {
  let longest = 0;
  let first: number | null = null;
  let last: number | null = null;
  for (const reading of readings.slice(0, end)) {
    const { atMilliseconds: at } = reading;
    if (last !== null && at - last > SETTING.silenceMilliseconds) first = null;
    last = at;
    if (!is(reading)) first = null;
    else {
      first ??= at;
      longest = Math.max(longest, at - first);
    }
  }
  return longest;
}

describe('whatever comes', () => {
  test('a capture is the last of enough readings in the band, and the leads were open since the one before', () => {
    let captured = 0;
    fc.assert(
      fc.property(anyStream, anySays, (readings, says) => {
        let since = 0;
        let held = Number.POSITIVE_INFINITY;
        let wasOpen = false;
        for (const { at, ohms, outcome } of capturesIn(play(readings, SETTING, says).happened)) {
          captured++;
          const index = readings.findIndex(({ atMilliseconds }) => atMilliseconds === at);
          const isOff = (one: StreamReading) => one.ohms === null || one.ohms >= Math.max(50_000, 10 * held);
          const off = stretchBefore(readings.slice(since), index - since + 1, isOff);
          // The dwell of a piece that is open was a time of open leads itself.
          if (!wasOpen) expect(off).toBeGreaterThanOrEqual(150);
          wasOpen = outcome.kind === 'captured-open';
          if (outcome.kind === 'captured-open') {
            const dwelt = stretchBefore(readings.slice(since), index - since + 1, (one) => one.ohms === null);
            expect(dwelt).toBeGreaterThanOrEqual(1000);
          } else {
            const last = readings.slice(index - 2, index + 1);
            const values = last.map((one) => one.ohms ?? Number.NaN);
            const band = (ohms ?? 0) > 12_000 ? (ohms ?? 0) * 5e-4 : 1;
            expect(Math.max(...values) - Math.min(...values)).toBeLessThanOrEqual(band);
            expect(stretchBefore(last, 3, () => true)).toBe(at - (last[0]?.atMilliseconds as number));
          }
          since = wasOpen ? index : index + 1;
          held = ohms ?? Number.POSITIVE_INFINITY;
        }
      }),
      { numRuns: 3000 },
    );
    expect(captured).toBeGreaterThan(1000);
  });

  test('a finger alone never counts', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const finger = readingsOf(
          [
            { what: 'open', readings: 10, interval: 50 },
            { what: 'finger', readings: 200, interval: 50 },
          ],
          seed,
        );
        expect(capturesIn(play(finger, SETTING).happened)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });

  test('slips shorter than the release never make a piece count twice', () => {
    // A contact between two slips that is shorter than a reading takes is seen by no meter.
    const hold = fc.record({ holds: fc.integer({ min: 71, max: 900 }), slips: fc.integer({ min: 1, max: 149 }) });
    fc.assert(
      fc.property(
        fc.array(hold, { minLength: 1, maxLength: 20 }),
        fc.integer({ min: 15, max: 70 }),
        (holds, interval) => {
          const edges: number[] = [1000];
          for (const { holds: held, slips } of holds)
            edges.push((edges.at(-1) as number) + held, (edges.at(-1) as number) + held + slips);
          const until = (edges.at(-1) as number) + 900;
          const readings = times(Math.floor(until / interval), 0).map((_, index) => {
            const at = index * interval;
            const passed = edges.filter((edge) => edge <= at).length;
            return { atMilliseconds: at, ohms: passed % 2 === 1 ? 4700 : null };
          });
          expect(capturesIn(play(readings, SETTING).happened)).toHaveLength(1);
        },
      ),
      { numRuns: 1000 },
    );
  });

  test('states are never changed in place, and the count stays within what it is of', () => {
    fc.assert(
      fc.property(anyStream, (readings) => {
        let capture = deepFrozen(ARMED);
        for (const reading of readings) {
          capture = deepFrozen(take(capture, reading, SETTING).capture);
          expect(capture.steady).toBeGreaterThanOrEqual(0);
          expect(capture.steady).toBeLessThanOrEqual(3);
          expect(capture.agreement.readings.length).toBeLessThan(200);
        }
        deepFrozen(sayOpen(capture, 1e6));
      }),
      { numRuns: 300 },
    );
  });
});

function deepFrozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const one of Object.values(value)) deepFrozen(one);
  }
  return value;
}

describe('an exponential approach', () => {
  /** Noise as a share of the value, its band of 7 and drift of 4 deviations. */
  const NOISE = 1e-5;

  test('counts only when what is left of it is within the noise, and then it does count', () => {
    const approach = fc.record({
      power: fc.double({ min: 3, max: 8, noNaN: true }),
      constant: fc.double({ min: 0.1, max: 2000, noNaN: true }),
      amplitude: fc.double({ min: 0.01, max: 1, noNaN: true }),
      interval: fc.integer({ min: 20, max: 120 }),
      noisy: fc.boolean(),
      seed: fc.integer({ min: 1, max: 1e6 }),
    });
    fc.assert(
      fc.property(approach, fc.constantFrom(-1, 1), ({ power, constant, amplitude, interval, noisy, seed }, way) => {
        const ohms = 10 ** power;
        const deviation = ohms * NOISE;
        const setting = {
          ...SETTING,
          bandOhms: 7 * deviation,
          driftOhms: 4 * deviation,
          farOhms: null,
          handOhms: 1e12,
          shortOhms: null,
        };
        const dice = new Dice(seed);
        const settling = times(Math.ceil((constant * 30 + 4000) / interval), 0).map((_, index) => ({
          atMilliseconds: 1000 + index * interval,
          ohms:
            ohms * (1 + way * amplitude * Math.exp((-index * interval) / constant)) +
            (noisy ? dice.normal(deviation) : 0),
        }));
        const apart = times(20, 0).map((_, index) => ({ atMilliseconds: index * 50, ohms: null }));
        const [captured, ...more] = capturesIn(play([...apart, ...settling], setting).happened);
        expect(more).toEqual([]);
        const left = Math.abs((captured?.ohms ?? Number.NaN) - ohms);
        expect(left).toBeLessThanOrEqual((noisy ? 9 : 4) * deviation);
      }),
      { numRuns: 3000 },
    );
  });
});
