import fc from 'fast-check';
import type { Command } from '../../../core/inspection/decide.ts';
import { checkDue, type Run } from '../../../core/inspection/run.ts';
import { CHECKS, type CheckName } from '../../../core/readiness/check.ts';
import { badCheck, CAUTIONS, factsOfClaim, goodCheck, METER } from './walk.ts';

/** Something that may be asked of a run as it stands, one command after the other; any of them may be refused. */
export type Asked = (run: Run) => Command[];

const always = (command: Command): Asked => {
  return () => [command];
};

const RAWS = ['+4.70213E+03', '+4.70213E+03', '4700', '4652.99', '4747.01', '+9.90000000E+37', '-4700', ' .5'];

export const anyReading = fc.constantFrom(...RAWS).map((raw) => always({ type: 'record-reading', measured: { raw } }));

const GOOD_READING: Command = { type: 'record-reading', measured: { raw: '+4.70213E+03' } };

const anyVoid = fc
  .tuple(fc.integer({ min: -1, max: 12 }), fc.string({ unit: 'grapheme', minLength: 1 }))
  .map(([reading, reason]) => always({ type: 'void-reading', reading, by: 'Ines Okoro', reason }));

const anyCheck = fc.constantFrom(...CHECKS);

const anyDecision = fc
  .tuple(fc.constantFrom('accepted' as const, 'not-accepted' as const, 'on-hold' as const), fc.constantFrom('', 'r'))
  .map(([disposition, reason]) => always({ type: 'decide-lot', disposition, by: 'B', reason }));

const before = (run: Run, check: CheckName): Command[] =>
  CHECKS.slice(0, CHECKS.indexOf(check)).map((earlier) => goodCheck(run, earlier));

/** Anything that may be asked of a run; a walk of these comes to every place a run can come to. */
export const anyCommand: fc.Arbitrary<Asked> = fc.oneof(
  { weight: 24, arbitrary: anyReading },
  { weight: 3, arbitrary: fc.constant<Asked>(() => Array.from({ length: 5 }, () => GOOD_READING)) },
  { weight: 3, arbitrary: anyVoid },
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
);

/** What ends a walk: a closing round, and the lot decided whichever way its plan says. */
export const DECIDED: Asked = (run) => [
  ...CHECKS.map((check) => goodCheck(run, check)),
  { type: 'decide-lot', disposition: 'accepted', by: 'B', reason: '' },
  { type: 'decide-lot', disposition: 'not-accepted', by: 'B', reason: '' },
];
