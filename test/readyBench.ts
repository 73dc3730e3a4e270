import type { Question } from '../core/contract/contract.ts';
import { openRun } from '../core/contract/openRun.ts';
import { CAUTIONS } from '../core/inspection/cautions.ts';
import { checkDue, type Run } from '../core/inspection/run.ts';
import type { CheckName } from '../core/readiness/check.ts';
import type { Station } from '../main/station/station.ts';
import { quickBench } from './quickBench.ts';
import type { TinyMeter } from './tinyMeter.ts';

export const BY = 'Ines Okoro';

export async function runOf(station: Station, run: number): Promise<Run> {
  return (await openRun(station, run)).run;
}

/**
 * Connects a simulated bench to a run, confirms the cautions and does all checks.
 * @param address where it is; where it is left out, one that takes no time
 */
export async function readyBench(station: Station, run: number, address?: string): Promise<void> {
  const there = address ?? (await quickBench(await runOf(station, run), 'sim:7'));
  await station.ask('connect-meter', { run, address: there });
  await station.ask('confirm-bench', { run, by: BY, cautions: [...CAUTIONS] });
  await checkBench(station, run);
}

/** Does every check that is due. */
export async function checkBench(
  station: Station,
  run: number,
  answers: (check: CheckName) => Partial<Question<'check-bench'>> = () => ({}),
): Promise<void> {
  for (;;) {
    const check = checkDue(await runOf(station, run));
    if (check === null) return;
    const { entry } = await station.ask('check-bench', { run, by: BY, check, ...answers(check) });
    if (entry.event.type === 'bench-checked' && entry.event.outcome === 'failed') throw new Error(entry.event.why);
  }
}

/** The same with a real meter: what lies on its probes is changed for each check, and put back after. */
export async function checkRealBench(station: Station, run: number, meter: TinyMeter, celsius = '23'): Promise<void> {
  const piece = meter.ohms;
  const onProbes: Partial<Record<CheckName, string>> = { 'open-leads': '+9.9E+37', 'shorted-leads': '+1.0E-01' };
  const { overridden } = await runOf(station, run);
  if (!overridden) await station.ask('override-calibration', { run, by: BY, reason: 'a meter made for this test' });
  await checkBench(station, run, (check) => {
    meter.ohms = onProbes[check] ?? piece;
    if (check === 'reference') return { waived: 'no reference resistor in this test' };
    return check === 'ambient' ? { celsius } : {};
  });
  meter.ohms = piece;
}

export async function readyRealBench(station: Station, run: number, meter: TinyMeter, celsius = '23'): Promise<void> {
  await station.ask('connect-meter', { run, address: meter.address });
  await station.ask('confirm-bench', { run, by: BY, cautions: [...CAUTIONS] });
  await checkRealBench(station, run, meter, celsius);
}
