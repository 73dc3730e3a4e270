import { requests } from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import { exitStatus } from './exitStatus.ts';
import { runNumber } from './wholeNumber.ts';
import { withStation } from './withStation.ts';

export interface DecideOptions {
  disposition: string;
  by: string;
  reason?: string;
  approvedBy?: string;
  data?: string;
}

/** Decides the lot of a run that was measured, by its plan or otherwise, or puts it on hold. */
export async function decide(text: string, { data, ...given }: DecideOptions): Promise<number> {
  const asked = checked('decide', requests['decide-lot'], { run: runNumber(text), ...given });
  await withStation(data, (station) => station.ask('decide-lot', asked));
  console.log(
    `Run ${asked.run} is decided: ${asked.disposition.replace('-', ' ')}. Its certificate: reelohm certify ${asked.run}`,
  );
  return exitStatus.good;
}
