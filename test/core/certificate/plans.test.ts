import { expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import { outlook } from '../../../core/inspection/outlook.ts';
import { planSource } from '../../../core/sampling/planWords.ts';
import { decidedRun, readyRun, walk, withReadings } from '../inspection/walk.ts';
import { certificateBytes } from './files.ts';

const POINTS = { acceptedPercent: '1', producerRiskPercent: '10', refusedPercent: '40', consumerRiskPercent: '10' };
const PLANS: Record<string, LotClaimInput['plan']> = {
  single: { aql: '10' },
  double: { aql: '10', sampling: 'double' },
  ISO: { aql: ' 10.0 ', standard: 'ISO 2859-1', severity: 'tightened', override: { by: 'Q', reason: 'r' } },
  reduced: { aql: '10', severity: 'reduced', override: { by: 'Q', reason: 'r' } },
  'zero acceptance': { zeroAcceptance: { refusedPercent: '40.0' } },
  process: { twoPoint: { ...POINTS, of: 'process' } },
  lot: { twoPoint: { ...POINTS, of: 'lot' } },
  'variables, two points': { variables: POINTS },
  'variables, spread known': { variables: { ...POINTS, knownSpread: '1 %' } },
  'variables, AQL': { variables: { aql: ' 1.00 ' } },
  'every piece': { everyPiece: { accept: 2 } },
  agreed: { sampleSize: 7, accept: 1 },
};

it.each(Object.entries(PLANS))('a certificate of a plan holds and says which it was: %s', (_, plan) => {
  for (const positions of [{ kind: 'random', seed: 7 }, { kind: 'spread' }, { kind: 'as-taken' }] as const) {
    let run = readyRun({ plan, positions, lot: { number: 'L-1', size: 26 }, classA: {}, stopping: 'never' });
    // One piece below the window, one that slipped.
    run = withReadings(run, '4600.0', '4710.0');
    if (outlook(run) === 'undecided') {
      run = walk(run, { type: 'void-reading', reading: 1, by: 'B', reason: 'slipped' });
    }
    for (let piece = 0; outlook(run) === 'undecided'; piece++) run = withReadings(run, `47${10 + (piece % 9)}.0`);
    run = decidedRun(run, outlook(run) === 'accept' ? 'accepted' : 'not-accepted', 'r');
    const { checked } = verifyCertificate(certificateBytes(run));
    expect(checked.join('\n')).toContain(planSource(run.plan));
  }
});
