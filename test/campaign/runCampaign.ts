import { type Connector, Lane, type LanePlan, product } from './lane.ts';
import { MetersAfar } from './metersAfar.ts';
import { Tally } from './tally.ts';

export interface CampaignPlan {
  seed: number;
  faults: number;
  /** Meters at work at the same time; they mostly wait. */
  lanes: number;
  links: readonly LanePlan['link'][];
  connector?: Connector;
}

/** How many meters one process has. */
const METERS_TOGETHER = 12;
const DIALECTS = ['scpi', 'one-command'] as const;

/** Runs a campaign, its faults shared out over all lines and dialects. */
export async function runCampaign(plan: CampaignPlan, tally = new Tally()): Promise<Tally> {
  const { seed, faults, lanes, links, connector = product } = plan;
  const plans = Array.from({ length: lanes }, (_, index): LanePlan => {
    const link = links[index % links.length];
    const dialect = DIALECTS[Math.floor(index / links.length) % DIALECTS.length];
    if (!link || !dialect) throw new Error('no line to run over');
    // What does not come out even goes to the first lanes.
    const share = Math.floor(faults / lanes) + (index < faults % lanes ? 1 : 0);
    return { link, dialect, seed, index, faults: share };
  });
  const processes = Array.from({ length: Math.ceil(lanes / METERS_TOGETHER) }, () => new MetersAfar());
  try {
    const running: Promise<void>[] = [];
    // One after the other: where many processes start at once, answers come late that should not.
    for (const [index, lanePlan] of plans.entries()) {
      const meters = processes[Math.floor(index / METERS_TOGETHER)];
      if (!meters) throw new Error('too few processes');
      const lane = new Lane(lanePlan, tally, meters, connector);
      await lane.prepare();
      running.push(lane.run());
    }
    await Promise.all(running);
  } finally {
    await Promise.all(processes.map((each) => each.stop()));
  }
  return tally;
}
