import { formatCount } from '../quantity/formatCount.ts';
import { shapeForVariables } from '../sampling/shapeForVariables.ts';
import { judgeByVariables } from '../sampling/variablesJudgement.ts';
import { sortedOf } from '../statistics/values.ts';
import { conforms } from '../window/judge.ts';
import { limitsOf, usualDigit, valuedOf } from './analysisOfRun.ts';
import { counts, type Run } from './run.ts';

/** What the plan says of the lot by now; `studied` is a study with all its readings, which says nothing of a lot. */
export type Outlook = 'undecided' | 'accept' | 'not-accept' | 'studied';

type Measured = Pick<Run, 'tally' | 'plan' | 'readings' | 'again' | 'window' | 'classA' | 'stopping'>;

/** How the lot stands by its plan. */
export interface Standing {
  outlook: Outlook;
  /** Pieces to be measured in all, as far as is known now: the sample, with the further pieces where they are needed. */
  wanted: number;
  /** Whether the further pieces are needed. */
  further: boolean;
  /** What the plan will say whatever the pieces that are left read; null while that is open. */
  certain: 'accept' | 'not-accept' | null;
  /** Why it stands so where counts alone do not say it: mean and spread, or why they may not decide; null otherwise. */
  why: string | null;
}

/** What the plan says, see {@link standingOf}. */
export function outlook(run: Measured): Outlook {
  return standingOf(run).outlook;
}

/** Pieces to be measured in all, as far as is known now. */
export function wantedPieces(run: Measured): number {
  return standingOf(run).wanted;
}

/**
 * How the lot stands by its plan.
 *
 * - Single sampling: not accepted as soon as the rejection number is reached, accepted when the sample is complete below it
 *   (MIL-STD-105E, 4.9.1). In the gap of reduced inspection the lot is accepted (4.7.4 and 4.9.1).
 * - Double sampling: accepted or not after the first sample where its numbers say so, else after both together (4.9.2).
 * - By variables: by mean and spread of the sample (variablesJudgement.ts), where its shape allows it; else by counting as many pieces as
 *   that needs.
 * - Pieces of class A have an acceptance number of their own beside all that.
 * - Measuring ends early only as far as the lot's `stopping` says.
 *
 * Where a reading of the sample is made void or suspect while further pieces are measured, the sample alone is asked again when it is
 * complete: what its pieces show decides, not the order in which they were measured.
 */
export function standingOf(run: Measured): Standing {
  const { tally, plan } = run;
  if (plan.choice.kind === 'study') {
    const studied = tally.counted >= plan.sampleSize;
    return { ...PLAIN, outlook: studied ? 'studied' : 'undecided', wanted: plan.sampleSize };
  }
  const { further, sampleSize } = plan;
  const sample = sampleOf(run);
  if (plan.variables !== null) {
    const found = byVariables(run, sample);
    if (found !== null) return found;
  }
  if (further === null) return counting(run, { reject: plan.reject, wanted: sampleSize });
  const both = { reject: further.reject, wanted: sampleSize + further.sampleSize };
  if (further.kind === 'attributes') {
    const why = plan.variables === null ? null : variablesOf(run).why;
    return { ...counting(run, both), further: true, why };
  }
  const decides = sample.nonconforming <= plan.accept || sample.nonconforming >= plan.reject;
  if (sample.left > 0 || decides) return firstSample(run, sample);
  return { ...counting(run, both), further: true };
}

const PLAIN = { further: false, certain: null, why: null } as const;

/** The pieces of the sample alone, without further ones. */
interface Sample {
  /** How many of them are to be measured yet, or again. */
  left: number;
  nonconforming: number;
  /** Further pieces whose reading counts. */
  further: number;
}

function sampleOf({ tally, again, readings, plan: { sampleSize } }: Measured): Sample {
  const begun = tally.counted + again.length;
  const { nonconforming } = tally;
  if (begun <= sampleSize) return { left: sampleSize - tally.counted, nonconforming, further: 0 };
  const left = again.filter((piece) => piece <= sampleSize).length;
  const further = begun - sampleSize - (again.length - left);
  return { left, nonconforming: nonconforming - nonconformingFurther(readings, sampleSize), further };
}

const furtherFound = new WeakMap<Run['readings'], number>();

/** Further pieces that do not conform; none of them can be among the first readings, as many as the sample has pieces. */
function nonconformingFurther(readings: Run['readings'], sampleSize: number): number {
  const known = furtherFound.get(readings);
  if (known !== undefined) return known;
  let found = 0;
  for (const reading of readings.judged(sampleSize)) {
    if (reading.piece > sampleSize && counts(reading) && !conforms(reading.verdict)) found++;
  }
  furtherFound.set(readings, found);
  return found;
}

/** The first of two samples: between its numbers it decides nothing. */
function firstSample(run: Measured, { left, nonconforming, further }: Sample): Standing {
  const { accept, reject, sampleSize } = run.plan;
  const numbers = { reject, wanted: run.tally.counted + left, nonconforming };
  const standing = decided(run, numbers, nonconforming + left <= accept);
  if (further === 0) return standing;
  const why = `The first sample alone decides: ${formatCount(nonconforming)} of its ${formatCount(sampleSize)} pieces do not conform.`;
  return standing.outlook === 'undecided' ? standing : { ...standing, why };
}

interface Numbers {
  reject: number;
  wanted: number;
}

function counting(run: Measured, { reject, wanted }: Numbers): Standing {
  const { counted, nonconforming } = run.tally;
  // From the gap between the numbers a lot is accepted.
  return decided(run, { reject, wanted, nonconforming }, nonconforming + Math.max(0, wanted - counted) < reject);
}

/** @param passes whether the lot is accepted even where every piece that is left does not conform */
function decided(
  run: Measured,
  { reject, wanted, nonconforming }: Numbers & { nonconforming: number },
  passes: boolean,
): Standing {
  const { tally, classA } = run;
  const left = Math.max(0, wanted - tally.counted);
  const failed = nonconforming >= reject || hasTooManyOfClassA(run);
  const passesClassA = classA === null || tally.classA + left <= classA.accept;
  const certain = failed ? 'not-accept' : passes && passesClassA ? 'accept' : null;
  return { ...PLAIN, outlook: endsBy(run, certain, left) ? (certain ?? 'undecided') : 'undecided', wanted, certain };
}

function hasTooManyOfClassA({ tally, classA }: Measured): boolean {
  return classA !== null && tally.classA > classA.accept;
}

function endsBy({ stopping }: Measured, certain: Standing['certain'], left: number): boolean {
  if (left === 0) return true;
  if (stopping === 'when-certain') return certain !== null;
  return stopping === 'when-refused' && certain === 'not-accept';
}

/** The standing by mean and spread; null where counting decides in their place. */
function byVariables(run: Measured, { left, further }: Sample): Standing | null {
  const wanted = run.tally.counted + left;
  const tooMany = hasTooManyOfClassA(run);
  if (tooMany && (further === 0 || left > 0)) {
    const outlook = endsBy(run, 'not-accept', left) ? 'not-accept' : 'undecided';
    return { ...PLAIN, outlook, wanted, certain: 'not-accept' };
  }
  if (left > 0) return { ...PLAIN, outlook: 'undecided', wanted };
  const { accepts, why } = variablesOf(run);
  if (accepts === null) return null;
  const says = accepts && !tooMany ? 'accept' : 'not-accept';
  return { outlook: says, wanted, further: false, certain: says, why };
}

const judged = new WeakMap<Run['readings'], { accepts: boolean | null; why: string }>();

/** What mean and spread of the sample say; `accepts` null where they may not decide. Of the first pieces of the sample only. */
function variablesOf(run: Measured): { accepts: boolean | null; why: string } {
  const known = judged.get(run.readings);
  if (known) return known;
  const found = judgeSample(run);
  judged.set(run.readings, found);
  return found;
}

function judgeSample({ readings, plan, window }: Measured): { accepts: boolean | null; why: string } {
  const { choice, variables, sampleSize } = plan;
  if (choice.kind !== 'variables' || variables === null) throw new Error('the plan is none by variables');
  const sample = valuedOf({ readings }).filter(({ piece }) => piece <= sampleSize);
  if (sample.length < sampleSize) {
    const why = 'A piece is open and has no value, so mean and spread cannot decide: pieces are counted.';
    return { accepts: null, why };
  }
  const values = sample.map(({ value }) => value);
  const shape = shapeForVariables(sortedOf(values), limitsOf(window), usualDigit(sample));
  if (!shape.allowed) return { accepts: null, why: shape.why };
  const { lower, upper } = window;
  const judgement = judgeByVariables(values, {
    limits: { lower, upper },
    plan: { sampleSize, k: variables.k },
    spreadOhms: choice.spreadOhms,
  });
  return { accepts: judgement.accepted, why: [judgement.why, shape.words].filter(Boolean).join(' ') };
}
