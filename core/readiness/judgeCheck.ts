import { problem } from '../problem/problem.ts';
import { decimalText } from '../quantity/decimal.ts';
import { meterNumber } from '../quantity/meterNumber.ts';
import { judgeAmbient } from './ambientCheck.ts';
import { type Bench, failed, type Judged } from './bench.ts';
import { type CheckName, FOUND_UNITS, type Found, type ReferenceFacts, type Shown } from './check.ts';
import { judgeMeter } from './meterCheck.ts';
import { judgeMethod } from './methodCheck.ts';
import { judgeNoVoltage } from './noVoltageCheck.ts';
import { judgeOpenLeads } from './openLeadsCheck.ts';
import { judgeReference } from './referenceCheck.ts';
import { judgeShortedLeads } from './shortedLeadsCheck.ts';

/**
 * Judges one check of the bench from what was shown. A check that fails says what to do.
 * @param at the time of the check, ISO 8601 with offset: calibration and reference must be in date then
 * @throws problems answer-unreadable, answer-not-a-number, input-invalid, check-incomplete where too little was shown to judge,
 *   check-must-be-measured where a word was given for what the meter can show, check-not-waivable, reason-missing
 */
export function judgeCheck(
  bench: Bench,
  check: CheckName,
  shown: readonly Shown[],
  reference: ReferenceFacts | null,
  at: string,
): Judged & { found: Found[] } {
  const found = shown.map((one) => readShown(one));
  return { ...judge(bench, check, found, reference, at), found };
}

function judge(
  bench: Bench,
  check: CheckName,
  found: readonly Found[],
  reference: ReferenceFacts | null,
  at: string,
): Judged {
  const of = (what: Found['what']) => found.find((one) => one.what === what);
  const trouble = of('trouble');
  if (trouble) return failed(trouble.raw, 'Put this right, then do the check again');
  const waiver = of('waiver');
  if (waiver) {
    // A reference may not be at hand; everything else can be shown with the meter and its leads alone.
    if (check !== 'reference') throw problem('check-not-waivable', check);
    if (waiver.raw === '') throw problem('reason-missing');
    return { outcome: 'waived', why: `no reference was measured: ${waiver.raw}`, zeroOhms: null };
  }
  if (of('word') && check !== 'no-voltage') throw problem('check-must-be-measured', check);
  switch (check) {
    case 'meter':
      return judgeMeter(bench, found, at);
    case 'open-leads':
      return judgeOpenLeads(bench, found);
    case 'shorted-leads':
      return judgeShortedLeads(bench, found);
    case 'no-voltage':
      return judgeNoVoltage(bench, found);
    case 'reference':
      return judgeReference(bench, found, reference, at);
    case 'method':
      return judgeMethod(bench, at);
    case 'ambient':
      return judgeAmbient(bench, found);
  }
}

function readShown({ what, raw }: Shown): Found {
  const unit = FOUND_UNITS[what];
  if (unit === '') return { what, raw, value: null, unit };
  if (what === 'temperature-typed') {
    if (!decimalText.safeParse(raw).success)
      throw problem('input-invalid', 'ambient temperature', `"${raw}" is not a plain decimal number`);
    return { what, raw, value: raw, unit };
  }
  const number = meterNumber(raw);
  if (number === null) throw problem('answer-unreadable', `the question for ${what}`, raw);
  if (number.kind === 'not-a-number') throw problem('answer-not-a-number', `the question for ${what}`);
  return { what, raw, value: number.kind === 'value' ? number.text : null, unit };
}
