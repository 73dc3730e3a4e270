import { requests } from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import type { Correctable } from '../../core/inspection/event.ts';
import { problem } from '../../core/problem/problem.ts';
import type { Station } from '../station/station.ts';
import { exitStatus } from './exitStatus.ts';
import { runNumber } from './wholeNumber.ts';
import { withStation } from './withStation.ts';

/** The option for each fact that can be corrected. */
const FACTS = {
  lotNumber: 'lot number',
  supplier: 'supplier',
  reel: 'reel',
  description: 'description',
} as const satisfies Record<string, Correctable>;
type FactOption = keyof typeof FACTS;

export interface CorrectOptions extends Partial<Record<FactOption, string>> {
  by: string;
  reason: string;
  disposition?: string;
  approvedBy?: string;
  data?: string;
}

/** Corrects the decision of a lot, or one thing that was typed wrong of it. What it was stays in the record. */
export async function correct(text: string, options: CorrectOptions): Promise<number> {
  const run = runNumber(text);
  const ask = correction(run, options);
  await withStation(options.data, ask);
  console.log(`Corrected. A certificate that was written before says what it was; anew: reelohm certify ${run}`);
  return exitStatus.good;
}

/** The one correction that is asked for. @throws problem input-invalid where it is none or several */
function correction(run: number, options: CorrectOptions): (station: Station) => Promise<unknown> {
  const { by, reason, disposition, approvedBy } = options;
  const facts = (Object.keys(FACTS) as FactOption[]).filter((option) => options[option] !== undefined);
  if (facts.length + (disposition === undefined ? 0 : 1) !== 1) {
    throw problem(
      'input-invalid',
      'correct',
      'expected one of --disposition, --lot-number, --supplier, --reel, --description',
    );
  }
  const [fact] = facts;
  if (fact === undefined) {
    const given = { run, by, reason, disposition, ...(approvedBy !== undefined && { approvedBy }) };
    const asked = checked('correct', requests['correct-decision'], given);
    return (station) => station.ask('correct-decision', asked);
  }
  if (approvedBy !== undefined) throw problem('approval-not-needed');
  const asked = checked('correct', requests['correct-fact'], { run, by, reason, fact: FACTS[fact], is: options[fact] });
  return (station) => station.ask('correct-fact', asked);
}
