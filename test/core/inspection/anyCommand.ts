import fc from 'fast-check';
import type { Command } from '../../../core/inspection/decide.ts';
import { CORRECTABLE, dispositions, STOPPING } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { checkDue, type Run } from '../../../core/inspection/run.ts';
import { CHECKS, type CheckName } from '../../../core/readiness/check.ts';
import { LARGEST_SEED } from '../../../core/sampling/positions.ts';
import type { StudyChoiceInput } from '../../../core/study/studyPlan.ts';
import { RULES } from '../../../core/window/decisionRule.ts';
import { badCheck, CAUTIONS, factsOfClaim, goodCheck, METER } from './walk.ts';

/** Something that may be asked of a run as it stands, one command after the other; any of them may be refused. */
export type Asked = (run: Run) => Command[];

const always = (command: Command): Asked => {
  return () => [command];
};

/** Inside, on condition inside and outside (U is below 1 Ω here), far outside, open, and two that say nothing of a piece. */
const RAWS = [
  ...['+4.70213E+03', '+4.70213E+03', '4700', '4653.2', '4746.8', '4652.99', '4747.01', '4600.0', '4800.0'],
  ...['+4.70E+05', '+9.90000000E+37', '-4700', ' .5'],
];

/** Where the next piece is taken, of a lot of 100: not everything said can be. */
const anySaid = fc
  .option(fc.integer({ min: -1, max: 102 }), { freq: 5 })
  .map((position) => always({ type: 'say-position', position }));

export const anyReading = fc.constantFrom(...RAWS).map((raw) => always({ type: 'record-reading', measured: { raw } }));

const GOOD_READING: Command = { type: 'record-reading', measured: { raw: '+4.70213E+03' } };

const anyVoid = fc
  .tuple(fc.integer({ min: -1, max: 12 }), fc.string({ unit: 'grapheme', minLength: 1 }))
  .map(([reading, reason]) => always({ type: 'void-reading', reading, by: 'Ines Okoro', reason }));

const anyCheck = fc.constantFrom(...CHECKS);

const anyDecision = fc
  .tuple(fc.constantFrom(...dispositions.options), fc.constantFrom('', 'r'))
  .map(([disposition, reason]) => always({ type: 'decide-lot', disposition, by: 'B', reason }));

/** Two people who answer for it, or one who calls himself two. */
const anyApproved = fc
  .constantFrom('C', 'b.', '')
  .map((approvedBy) => always({ type: 'decide-lot', disposition: 'accepted', by: 'B', reason: 'r', approvedBy }));

/** Corrects the decision or a fact, to what it is as well. */
export const anyCorrection: fc.Arbitrary<Asked> = fc.oneof(
  fc
    .tuple(fc.constantFrom('accepted', 'not-accepted', 'on-hold'), fc.constantFrom(null, 'C', 'B'))
    .map(([disposition, approvedBy]) =>
      always({ type: 'correct-decision', disposition, by: 'B', reason: 'r', approvedBy } as Command),
    ),
  fc
    .tuple(fc.constantFrom(...CORRECTABLE), fc.constantFrom('', 'L-1', 'L-2093'))
    .map(([fact, is]) => always({ type: 'correct-fact', fact, is, by: 'B', reason: 'r' })),
);

const before = (run: Run, check: CheckName): Command[] =>
  CHECKS.slice(0, CHECKS.indexOf(check)).map((earlier) => goodCheck(run, earlier));

/** Anything that may be asked of a run; a walk of these comes to every place a run can come to. */
export const anyCommand: fc.Arbitrary<Asked> = fc.oneof(
  { weight: 24, arbitrary: anyReading },
  { weight: 3, arbitrary: fc.constant<Asked>(() => Array.from({ length: 5 }, () => GOOD_READING)) },
  { weight: 3, arbitrary: anyVoid },
  { weight: 3, arbitrary: anySaid },
  { weight: 8, arbitrary: fc.constant<Asked>((run) => CHECKS.map((check) => goodCheck(run, check))) },
  { weight: 3, arbitrary: fc.constant<Asked>((run) => [goodCheck(run, checkDue(run) ?? 'meter')]) },
  {
    weight: 1,
    arbitrary: anyCheck.map(
      (check): Asked =>
        (run) => [goodCheck(run, check)],
    ),
  },
  {
    weight: 2,
    arbitrary: anyCheck.map(
      (check): Asked =>
        (run) => [badCheck(run, check)],
    ),
  },
  {
    weight: 3,
    arbitrary: anyCheck.map(
      (check): Asked =>
        (run) => [...before(run, check), badCheck(run, check)],
    ),
  },
  { weight: 1, arbitrary: fc.constant(always({ type: 'expire-readiness', why: 'late' })) },
  { weight: 1, arbitrary: fc.constant(always({ type: 'override-calibration', by: 'B', reason: 'r' })) },
  { weight: 1, arbitrary: fc.constant(always({ type: 'interrupt', why: 'unplugged' })) },
  { weight: 4, arbitrary: fc.constant(always({ type: 'continue' })) },
  { weight: 1, arbitrary: fc.constant(always({ type: 'connect-meter', meter: METER })) },
  { weight: 6, arbitrary: fc.constant(always({ type: 'confirm-bench', by: 'B', cautions: CAUTIONS })) },
  { weight: 1, arbitrary: fc.constant(always({ type: 'receive-lot', facts: factsOfClaim() })) },
  { weight: 1, arbitrary: fc.constant(always({ type: 'note-certificate', file: 'c.csv', sha256: 'ab' })) },
  { weight: 3, arbitrary: fc.constant(always({ type: 'lift-hold', by: 'B', reason: 'r' })) },
  { weight: 2, arbitrary: anyDecision },
  { weight: 2, arbitrary: anyApproved },
  { weight: 1, arbitrary: anyCorrection },
);

const AGAINST: Command = { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: 'r', approvedBy: 'C' };

/** What ends a walk: a closing round, and the lot decided whichever way its plan says. */
export const DECIDED: Asked = (run) => [
  ...CHECKS.map((check) => goodCheck(run, check)),
  { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: '' },
  // Of lots that their plan does not accept a part is accepted all the same.
  ...(run.stopping === 'never' ? [AGAINST] : []),
  { type: 'decide-lot', disposition: 'not-accepted', by: 'B', reason: '' },
  { type: 'decide-lot', disposition: 'studied', by: 'B', reason: '' },
];

const STUDIES: readonly Omit<StudyChoiceInput, 'kind'>[] = [
  { design: 'single', pieces: 1, operators: ['Ines Okoro'], repeats: 3, seed: 7 },
  { design: 'crossed', pieces: 2, operators: ['Ines Okoro', 'R. Adeyemi'], repeats: 2, seed: 7 },
];

/** Plans for a lot of 100 that a walk comes to the end of. */
const SMALL_PLANS: readonly LotClaimInput['plan'][] = [
  { aql: '10', level: 'I', sampling: 'double' },
  { aql: '10', level: 'S-2', severity: 'reduced', override: { by: 'B', reason: 'r' } },
  { zeroAcceptance: { refusedPercent: '40' } },
  {
    twoPoint: {
      acceptedPercent: '5',
      producerRiskPercent: '20',
      refusedPercent: '60',
      consumerRiskPercent: '10',
      of: 'lot',
    },
  },
  {
    variables: {
      acceptedPercent: '1',
      producerRiskPercent: '10',
      refusedPercent: '40',
      consumerRiskPercent: '10',
      knownSpread: '1 %',
    },
  },
  { variables: { aql: '10', level: 'II' } },
];

const anyPlan: fc.Arbitrary<LotClaimInput['plan']> = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 0, max: 4 }).map((accept) => ({ sampleSize: 5, accept })) },
  { weight: 1, arbitrary: fc.constantFrom(...STUDIES).map((study) => ({ study })) },
  { weight: 3, arbitrary: fc.constantFrom<LotClaimInput['plan']>(...SMALL_PLANS) },
);

const anyPositions: fc.Arbitrary<LotClaimInput['positions']> = fc.oneof(
  fc.constantFrom({ kind: 'as-taken' } as const, { kind: 'spread' } as const),
  fc.integer({ min: 0, max: LARGEST_SEED }).map((seed) => ({ kind: 'random', seed }) as const),
);

/**
 * On what terms a lot may be received: its plan, a study too, where its pieces are taken, its decision rule, and what is known of
 * its coefficient.
 */
export const anyTerms: fc.Arbitrary<Partial<LotClaimInput>> = fc
  .record({
    plan: anyPlan,
    positions: anyPositions,
    classA: fc.constantFrom<LotClaimInput['classA']>(null, {}, { accept: 1, beyondPercent: '2' }),
    stopping: fc.constantFrom(...STOPPING),
    decision: fc.record({
      rule: fc.constantFrom(...RULES),
      guardFactor: fc.constantFrom('0', '0.83', '1'),
      processSpread: fc.constantFrom('', '0.3 %', '12 ohm'),
    }),
    temperature: fc.constantFrom<LotClaimInput['temperature']>(
      {},
      { coefficient: { limitPpmPerKelvin: '50' } },
      { coefficient: { knownPpmPerKelvin: '-15', uncertaintyPpmPerKelvin: '3' }, referenceCelsius: '25' },
    ),
  })
  .map((terms) => ('study' in terms.plan ? { ...terms, positions: { kind: 'as-taken' } } : terms));
