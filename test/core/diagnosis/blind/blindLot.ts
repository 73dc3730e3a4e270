import { Draws } from './draws.ts';

/** What was made wrong with a lot of the blind set. */
export const BLIND_CAUSES = [
  'good',
  'off its value',
  'trend along the reel',
  'mixed reel',
  'sorted lot',
  'spliced reel',
  'single strays',
  'another value throughout',
  'decade slip throughout',
  'bands from the other end throughout',
  'added resistance',
  'a path beside each piece',
  'fingers on the tips',
  'unstable contact',
  'warming',
  'meter drift',
  'opens from a lead',
  'shorts throughout',
  'source connected',
  'wrong range',
] as const;
export type BlindCause = (typeof BLIND_CAUSES)[number];

export interface BlindReading {
  ohms: number | null;
  position: number;
  atMilliseconds: number;
  piece: number;
}

export interface BlindReference {
  afterReading: number;
  atMilliseconds: number;
  trueOhms: number;
  measuredOhms: number;
  uncertaintyOhms: number;
}

export interface BlindLot {
  seed: number;
  nominalOhms: number;
  tolerancePercent: number;
  method: '2-wire' | '4-wire';
  expandedOhms: number;
  resolutionOhms: number;
  readings: BlindReading[];
  references: BlindReference[];
  truth: {
    cause: BlindCause;
    /** Whether the effect is large enough, beside spread, noise and count, that somebody with these data could tell. */
    decidable: boolean;
    /** Sizes of the effect. */
    figures: Record<string, number>;
  };
}

/** IEC 60063, table for E24, from memory. */
const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];
/** IEC 60062, from memory: digits, multipliers and tolerances that can be told apart from both ends of four bands. */
const TOLERANCE_OF: Record<number, number> = { 1: 1, 2: 2, 5: 0.5 };
const SHARE_GOOD = 0.25;

/** What is the same of every lot, whatever is wrong with it. */
interface Base {
  draws: Draws;
  nominal: number;
  tolerancePercent: number;
  /** The tolerance in ohms. */
  half: number;
  wires: 2 | 4;
  expanded: number;
  noise: number;
  resolution: number;
  count: number;
  /** Standard deviation and mean of the pieces. */
  deviation: number;
  mean: number;
  positions: number[];
  millisecondsEach: number;
  /** After how many readings a reference was measured. */
  checks: number[];
  referenceOhms: number;
}

/** What a cause makes of the base. */
interface Made {
  /** The piece's value as the probes meet it; null for nothing. One value a reading. */
  ohms: (number | null)[];
  /** How often each piece is read, if not once. */
  repeats?: number[];
  /** What the meter adds to a reference measured after so many readings. */
  referenceShift?: (afterReading: number) => number;
  resolution?: number;
  decidable: boolean;
  figures: Record<string, number>;
}

/** A lot of the blind set. Everything follows from the seed. */
export function blindLot(seed: number): BlindLot {
  const draws = new Draws(seed);
  const cause = draws.chance(SHARE_GOOD) ? 'good' : draws.one(BLIND_CAUSES.slice(1));
  const base = baseFor(cause, draws);
  const made = MADE[cause](base);
  const resolution = made.resolution ?? base.resolution;
  const shown = (ohms: number | null) =>
    ohms === null ? null : Math.round((ohms + base.noise * draws.normal()) / resolution) * resolution;
  const repeats = made.repeats ?? base.positions.map(() => 1);
  const readings: BlindReading[] = [];
  for (const [index, times] of repeats.entries()) {
    for (let turn = 0; turn < times; turn++) {
      readings.push({
        ohms: shown(made.ohms[readings.length] ?? null),
        position: base.positions[index] as number,
        atMilliseconds: Math.round(readings.length * base.millisecondsEach),
        piece: index + 1,
      });
    }
  }
  return {
    seed,
    nominalOhms: base.nominal,
    tolerancePercent: base.tolerancePercent,
    method: `${base.wires}-wire`,
    expandedOhms: base.expanded,
    resolutionOhms: resolution,
    readings,
    references: base.checks.map((share) => {
      const afterReading = Math.round(share * readings.length);
      return {
        afterReading,
        atMilliseconds: Math.round(afterReading * base.millisecondsEach),
        trueOhms: base.referenceOhms,
        // The mean of five readings, commonly.
        measuredOhms:
          base.referenceOhms +
          (made.referenceShift?.(afterReading) ?? 0) +
          (base.noise * draws.normal()) / Math.sqrt(5),
        uncertaintyOhms: base.referenceOhms * 1.5e-4,
      };
    }),
    truth: { cause, decidable: made.decidable, figures: made.figures },
  };
}

function baseFor(cause: BlindCause, draws: Draws): Base {
  const isLow = cause === 'added resistance' || cause === 'unstable contact';
  const isHigh = cause === 'fingers on the tips';
  for (;;) {
    const decade = isLow ? draws.whole(-1, 1) : isHigh ? draws.whole(4, 6) : draws.whole(-1, 6);
    const nominal = draws.one(E24) * 10 ** decade;
    const tolerancePercent =
      cause === 'bands from the other end throughout' ? draws.one([1, 2]) : draws.one([0.5, 1, 1, 2, 5, 5, 10]);
    const half = (nominal * tolerancePercent) / 100;
    const wires = isLow && cause === 'added resistance' ? 2 : draws.chance(0.6) ? 2 : 4;
    const expanded = nominal * draws.ratio(1e-4, 5e-4) + (wires === 2 ? 0.015 : 0.001);
    // A meter is fit for a part where it is worth a tenth of the tolerance (the rule of ten, common practice).
    if (expanded > half / 10 || (isHigh && nominal < 1e5)) continue;
    const digit = 10 ** Math.floor(Math.log10(expanded / 3));
    const count = draws.chance(0.03) ? draws.whole(1000, 3000) : Math.round(draws.ratio(20, 400));
    const deviation = half * draws.between(0.05, 0.3);
    const firstOnes = draws.chance(0.3);
    let position = 0;
    const positions = Array.from({ length: count }, () => {
      position += firstOnes ? 1 : draws.whole(1, 20);
      return position;
    });
    return {
      draws,
      nominal,
      tolerancePercent,
      half,
      wires,
      expanded,
      noise: (expanded / 2) * draws.between(0.33, 1),
      resolution: digit,
      count,
      deviation,
      mean: nominal + half * draws.between(-0.25, 0.25),
      positions,
      millisecondsEach: draws.between(2000, 6000),
      checks: draws.chance(0.65) ? (draws.chance(0.5) ? [0, 1] : [0, 0.5, 1]) : [],
      referenceOhms: nominal * draws.between(0.8, 1.25),
    };
  }
}

/** Pieces of the base as a process makes them. */
function pieces({ draws, count, mean, deviation }: Base, at = mean, spread = deviation): number[] {
  return Array.from({ length: count }, () => at + spread * draws.normal());
}

const MADE: Record<BlindCause, (base: Base) => Made> = {
  good(base) {
    const ohms: number[] = pieces(base);
    // One piece in some lots is a little out.
    if (base.draws.chance(0.15))
      ohms[base.draws.whole(0, base.count - 1)] = base.nominal + base.half * base.draws.between(1, 1.2);
    return { ohms, decidable: true, figures: {} };
  },

  'off its value'(base) {
    const { draws, half, count, deviation, nominal } = base;
    const halves = draws.one([-1, 1]) * draws.between(0.4, 2.8);
    const ohms = pieces(base, nominal + halves * half);
    // Without a reference a positive offset of a low value may be the leads; with a negative one a path beside may read so.
    const isLead = halves > 0 && base.wires === 2 && nominal <= 1000 && halves * half <= 20 && base.checks.length === 0;
    const isPath = halves < 0;
    const errors = (Math.abs(halves) * half) / (deviation / Math.sqrt(count));
    return { ohms, decidable: Math.abs(halves) > 0.65 && errors > 10 && !isLead && !isPath, figures: { halves } };
  },

  'trend along the reel'(base) {
    const { draws, positions, deviation, count, half } = base;
    const rise = draws.one([-1, 1]) * Math.min(draws.between(1, 9) * deviation, 1.2 * half);
    const last = positions.at(-1) as number;
    const ohms = pieces(base, base.nominal).map(
      (one, index) => one + rise * ((positions[index] as number) / last - 0.5),
    );
    // A slope's standard error is √12 standard deviations over √n, of what the reel rises.
    const errors = Math.abs(rise) / ((deviation * Math.sqrt(12)) / Math.sqrt(count));
    return {
      ohms,
      // Only a reference tells the reel from the meter.
      decidable: errors > 7 && Math.abs(rise) > 2.5 * deviation && count >= 30 && base.checks.length > 0,
      figures: { rise, errors },
    };
  },

  'mixed reel'(base) {
    const { draws, deviation, count } = base;
    const share = draws.between(0.04, 0.5);
    const apart = draws.one([-1, 1]) * draws.ratio(2.5, 40) * deviation;
    const isSecond = Array.from({ length: count }, () => draws.chance(share));
    const ohms = pieces(base).map((one, index) => one + (isSecond[index] ? apart : 0));
    const second = isSecond.filter(Boolean).length;
    const fewer = Math.min(second, count - second);
    return {
      ohms,
      decidable: fewer >= Math.max(7, 0.06 * count) && Math.abs(apart) > 5 * deviation && count >= 30,
      figures: { share: second / count, deviations: apart / deviation },
    };
  },

  'sorted lot'(base) {
    const { draws, half, nominal, count } = base;
    const hole = draws.between(0.15, 0.6);
    const spread = draws.between(0.45, 0.7) * half;
    const ohms = Array.from({ length: count }, () => {
      for (;;) {
        const off = spread * draws.normal();
        if (Math.abs(off) > hole * half && Math.abs(off) < half) return nominal + off;
      }
    });
    return { ohms, decidable: hole > 0.28 && count >= 60, figures: { hole } };
  },

  'spliced reel'(base) {
    const { draws, deviation, count } = base;
    const before = draws.whole(3, count - 3);
    const step = draws.one([-1, 1]) * draws.between(0.8, 7) * deviation;
    const ohms = pieces(base).map((one, index) => one + (index >= before ? step : 0));
    const errors = Math.abs(step) / (deviation * Math.sqrt(1 / before + 1 / (count - before)));
    const side = Math.min(before, count - before);
    return {
      ohms,
      decidable: errors > 8 && side >= 8 && side >= count / 12 && Math.abs(step) > 2 * deviation,
      figures: { before, deviations: step / deviation },
    };
  },

  'single strays'(base) {
    const { draws, nominal, count, half, deviation } = base;
    const ohms: number[] = pieces(base);
    const strays = Math.min(draws.whole(1, 3), Math.max(1, Math.floor(count / 50)));
    let nearest = Number.POSITIVE_INFINITY;
    for (let stray = 0; stray < strays; stray++) {
      const value = anotherValue(draws, nominal);
      nearest = Math.min(nearest, Math.abs(value - nominal));
      ohms[draws.whole(0, count - 1)] = value * (1 + (0.3 * half * draws.normal()) / nominal / 2);
    }
    return { ohms, decidable: nearest > 3.5 * half && nearest > 12 * deviation, figures: { strays } };
  },

  'another value throughout'(base) {
    const { draws, nominal, tolerancePercent, deviation, half } = base;
    const value = anotherValue(draws, nominal);
    const scale = value / nominal;
    const ohms = pieces(base, value * (1 + (tolerancePercent / 100) * draws.between(-0.25, 0.25)), deviation * scale);
    const far = Math.abs(value - nominal) / half;
    // Where E24 lies as close as the tolerance is wide, a value next to one of them says nothing.
    return { ohms, decidable: far > 4 && tolerancePercent <= 2 && !isNothing(value, nominal), figures: { value } };
  },

  'decade slip throughout'(base) {
    const factor = 10 ** base.draws.one([-2, -1, 1, 2]);
    const { mean, deviation, nominal } = base;
    const decidable = !isNothing(nominal * factor, nominal);
    return { ohms: pieces(base, mean * factor, deviation * factor), decidable, figures: { factor } };
  },

  'bands from the other end throughout'(base) {
    const { draws } = base;
    // First digit, second digit, multiplier, tolerance: from the other end the tolerance's band is the first digit.
    const tolerance = base.tolerancePercent;
    const toleranceDigit = tolerance;
    const candidates = E24.flatMap((figures) => {
      const [first, second] = [Math.floor(figures / 10), figures % 10];
      const turnedTolerance = TOLERANCE_OF[first];
      if (turnedTolerance === undefined) return [];
      return [0, 1, 2, 3, 4, 5]
        .map((multiplier) => ({
          nominal: figures * 10 ** multiplier,
          value: (10 * toleranceDigit + multiplier) * 10 ** second,
          turnedTolerance,
        }))
        .filter(
          ({ nominal, value }) => Math.abs(Math.log(value / nominal)) > 0.3 && !isDecade(value / nominal) && value >= 5,
        );
    });
    const { nominal, value, turnedTolerance } = draws.one(candidates);
    const scale = nominal / base.nominal;
    Object.assign(base, {
      nominal,
      half: base.half * scale,
      expanded: base.expanded * scale,
      noise: base.noise * scale,
      resolution: 10 ** Math.floor(Math.log10((base.expanded * scale) / 3)),
      mean: base.mean * scale,
      deviation: base.deviation * scale,
      referenceOhms: base.referenceOhms * scale,
    });
    const turnedHalf = (value * Math.min(turnedTolerance, tolerance)) / 100;
    const ohms = pieces(base, value + turnedHalf * draws.between(-0.25, 0.25), turnedHalf * draws.between(0.05, 0.3));
    // A value that is preferred as well may be just that.
    return { ohms, decidable: !isPreferred(value, tolerance) && !isNothing(value, nominal), figures: { value } };
  },

  'added resistance'(base) {
    const { draws, half, expanded } = base;
    const added = draws.ratio(Math.max(0.05, 0.3 * half), 10);
    const errors = added / expanded;
    return {
      ohms: pieces(base).map((one) => one + added),
      referenceShift: () => added,
      decidable: base.checks.length > 0 && errors > 4 && added > 0.3 * half && added < 20,
      figures: { added },
    };
  },

  'a path beside each piece'(base) {
    const { draws, nominal, half, tolerancePercent } = base;
    const beside = nominal * draws.ratio(0.3, 30);
    const ohms = pieces(base).map((one) => (one * beside) / (one + beside));
    const middle = (nominal * beside) / (nominal + beside);
    const isFar = nominal - middle > 4 * half;
    // A person is about a megohm, and leaves a path of the same size.
    return {
      ohms,
      decidable:
        isFar &&
        tolerancePercent <= 2 &&
        !isPreferred(middle, tolerancePercent) &&
        !isInOwnSeries(middle, tolerancePercent),
      figures: { beside },
    };
  },

  'fingers on the tips'(base) {
    const { draws, half, nominal, count } = base;
    const share = draws.chance(0.5) ? 1 : draws.between(0.15, 0.9);
    const typical = draws.ratio(5e5, 3e6);
    let touched = 0;
    const ohms = pieces(base).map((one) => {
      if (!draws.chance(share)) return one;
      touched++;
      const path = typical * Math.exp(0.35 * draws.normal());
      return (one * path) / (one + path);
    });
    const lost = nominal - (nominal * typical) / (nominal + typical);
    return { ohms, decidable: lost > 4 * half && touched >= 8 && touched > 0.1 * count, figures: { typical, share } };
  },

  'unstable contact'(base) {
    const { draws, half, deviation, expanded, count } = base;
    const share = draws.between(0.08, 0.6);
    const most = draws.ratio(0.3, 5);
    const isRepeated = draws.chance(0.5);
    const repeats = base.positions.map(() => (isRepeated && draws.chance(0.4) ? draws.whole(2, 3) : 1));
    let excursions = 0;
    const ohms = pieces(base).flatMap((one, index) =>
      Array.from({ length: repeats[index] as number }, () => {
        if (!draws.chance(share)) return one;
        excursions++;
        return one + most * draws.ratio(0.08, 1);
      }),
    );
    const typical = most * 0.35;
    const isSeen = typical > 8 * deviation && typical > 5 * expanded;
    return {
      ohms,
      repeats,
      decidable: isSeen && excursions >= 8 && excursions > 0.1 * count && most > 0.3 * half,
      figures: { share, most },
    };
  },

  warming(base) {
    const { draws, expanded, noise, count } = base;
    const times = draws.whole(3, 5);
    const each = draws.one([-1, 1]) * expanded * draws.ratio(0.1, 4);
    const read = Math.min(count, 80);
    base.positions = base.positions.slice(0, read);
    const ohms = pieces(base)
      .slice(0, read)
      .flatMap((one) => Array.from({ length: times }, (_, turn) => one + each * turn * draws.between(0.7, 1.3)));
    // The mean change of a piece, and what noise makes of it over so many pieces.
    const errors = (Math.abs(each) * (times - 1)) / ((noise * Math.SQRT2) / Math.sqrt(read));
    return {
      ohms,
      repeats: base.positions.map(() => times),
      decidable: errors > 12 && Math.abs(each) * (times - 1) > expanded,
      figures: { each },
    };
  },

  'meter drift'(base) {
    const { draws, half, expanded, count } = base;
    base.checks = draws.chance(0.85) ? [0, 0.5, 1] : [];
    const whole = draws.one([-1, 1]) * half * draws.ratio(0.1, 2);
    const ohms = pieces(base).map((one, index) => one + whole * (index / count));
    return {
      ohms,
      referenceShift: (afterReading) => (whole * afterReading * base.referenceOhms) / count / base.nominal,
      decidable: base.checks.length > 0 && Math.abs(whole) > 4 * expanded,
      figures: { whole },
    };
  },

  'opens from a lead'(base) {
    const { draws, count } = base;
    const from = draws.whole(1, count - 7);
    const until = draws.chance(0.6) ? count : Math.min(count, from + draws.whole(6, 20));
    return {
      ohms: pieces(base).map((one, index) => (index >= from && index < until ? null : one)),
      decidable: true,
      figures: { from, until },
    };
  },

  'shorts throughout'(base) {
    const { draws, nominal } = base;
    const left = draws.ratio(0.02, 0.3);
    return { ohms: pieces(base).map(() => left * draws.between(0.9, 1.1)), decidable: nominal > 50, figures: { left } };
  },

  'source connected'(base) {
    const { draws, nominal } = base;
    const ohms = pieces(base).map((one) => {
      const kind = draws.between(0, 1);
      if (kind < 0.3) return -nominal * draws.ratio(0.01, 3);
      if (kind < 0.45) return null;
      return kind < 0.8 ? one * draws.ratio(0.2, 4) : one;
    });
    return { ohms, decidable: true, figures: {} };
  },

  'wrong range'(base) {
    const { draws, half } = base;
    const step = half * draws.ratio(0.08, 1.2);
    const power = 10 ** Math.floor(Math.log10(step));
    const resolution = draws.one([1, 2, 5]) * power;
    return { ohms: pieces(base), resolution, decidable: resolution > 0.25 * half, figures: { resolution } };
  },
};

/** Another value of E24 within two decades, and no decade of this one. */
function anotherValue(draws: Draws, nominal: number): number {
  for (;;) {
    const decade = Math.floor(Math.log10(nominal)) - 1 + draws.whole(-1, 1);
    const value = draws.one(E24) * 10 ** decade;
    if (!isDecade(value / nominal)) return value;
  }
}

function isDecade(ratio: number): boolean {
  const decades = Math.log10(ratio);
  return Math.abs(decades - Math.round(decades)) < 1e-6;
}

/** Whether a value lies within half a tolerance of one of the series for it: E192 to 0.5 %, E96 to 1 %, E48 to 2 % (IEC 60063). */
function isInOwnSeries(value: number, tolerancePercent: number): boolean {
  const steps = tolerancePercent <= 0.5 ? 192 : tolerancePercent <= 1 ? 96 : 48;
  const place = Math.log10(value) * steps;
  return [Math.floor(place), Math.ceil(place)].some((step) => {
    // Three figures; the one number of E192 that is no rounded power (920) changes nothing here.
    const decades = Math.floor(step / steps);
    const preferred = Math.round(100 * 10 ** (step / steps - decades)) * 10 ** (decades - 2);
    return Math.abs(value / preferred - 1) < tolerancePercent / 200;
  });
}

/** What reads so little may as well be a short. */
function isNothing(value: number, nominal: number): boolean {
  return value < 1 || value < 2e-3 * nominal;
}

/** Whether a value lies within a tolerance of one of E24. */
function isPreferred(value: number, tolerancePercent: number): boolean {
  const power = 10 ** (Math.floor(Math.log10(value)) - 1);
  return [...E24, 100].some((figures) => Math.abs(value / power / figures - 1) < tolerancePercent / 100);
}
