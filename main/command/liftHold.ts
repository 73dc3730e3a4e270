import { requests } from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import { exitStatus } from './exitStatus.ts';
import { runNumber } from './wholeNumber.ts';
import { withStation } from './withStation.ts';

export interface LiftHoldOptions {
  by: string;
  reason: string;
  data?: string;
}

/** Takes a lot off hold, so that its run goes on. */
export async function liftHold(text: string, { data, ...given }: LiftHoldOptions): Promise<number> {
  const asked = checked('lift-hold', requests['lift-hold'], { run: runNumber(text), ...given });
  await withStation(data, (station) => station.ask('lift-hold', asked));
  console.log(`Run ${asked.run} is on hold no more.`);
  return exitStatus.good;
}
