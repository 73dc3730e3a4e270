import type { CheckedQuestion } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';
import { Problem, type ProblemCode } from '../../core/problem/problem.ts';
import type { FoundWhat, ReferenceFacts, Shown } from '../../core/readiness/check.ts';
import type { Meter } from '../../instruments/meter/meter.ts';
import type { GoingOn } from './longWorks.ts';
import { setAsBefore } from './meterSetting.ts';

/** What was shown in one check, and the resistor it was measured on. */
export interface CheckShown {
  shown: Shown[];
  reference: ReferenceFacts | null;
}

type Told = Pick<GoingOn, 'tell' | 'throwIfStopped'>;

/** Readings of the shorted leads: enough to see whether they are steady. */
const SHORTED_READINGS = 3;

/** Readings of the reference: how far they scatter is the repeatability in the uncertainty of every reading. */
const REFERENCE_READINGS = 5;

/** What the operator gives the word for where the meter measures no volts. */
const WORD = 'no voltage between the probes, by the word of the operator';

/** What a meter may say to a check of itself that is an answer, and not merely no answer. */
const TROUBLE: ReadonlySet<ProblemCode> = new Set(['meter-error', 'setting-not-taken', 'function-missing']);

/**
 * Measures what one check of the bench needs. At a real bench a person's hands have put the probes where the check wants
 * them; on the simulated one its own hands do it here.
 * @param today a calendar day like `2026-11-25`
 * @param going told of readings where there are several; where it was stopped no more are taken
 * @throws {Problem} whatever kept it from being measured, work-stopped among it: then the check was not done, which is not the same
 *   as failed
 */
export async function showCheck(
  meter: Meter,
  run: Run,
  asked: CheckedQuestion<'check-bench'>,
  today: string,
  going: Told,
): Promise<CheckShown> {
  const { hands } = meter;
  switch (asked.check) {
    case 'meter':
      return only(await showMeter(meter, run));
    case 'open-leads':
      await hands?.lift();
      return only([await readForRun(meter, run)]);
    case 'shorted-leads':
      await hands?.short();
      return only(await showShortedLeads(meter, run, going));
    case 'no-voltage':
      if (asked.word) return only([{ what: 'word', raw: WORD }]);
      await hands?.fixture();
      return only([await readOther(meter, run, 'dc-volts')]);
    case 'reference': {
      if (asked.waived !== undefined) return only([{ what: 'waiver', raw: asked.waived }]);
      const onBench = await hands?.reference();
      const reference = onBench
        ? { name: 'resistor of the simulated bench', ...onBench, due: today }
        : (asked.reference ?? null);
      return { shown: reference ? await readSeveral(meter, run, REFERENCE_READINGS, going) : [], reference };
    }
    case 'method':
      return only([]);
    case 'ambient':
      if (asked.celsius !== undefined) return only([{ what: 'temperature-typed', raw: asked.celsius }]);
      return only([await readOther(meter, run, 'temperature')]);
  }
}

function only(shown: Shown[]): CheckShown {
  return { shown, reference: null };
}

/** Who answers now, and whether it takes the run's setting and says so itself, with nothing in its error queue. */
async function showMeter(meter: Meter, run: Run): Promise<Shown[]> {
  const identity: Shown = { what: 'identity', raw: await meter.askIdentity() };
  try {
    await setAsBefore(meter, run);
  } catch (thrown) {
    if (!(thrown instanceof Problem) || !TROUBLE.has(thrown.code)) throw thrown;
    return [identity, { what: 'trouble', raw: thrown.what }];
  }
  return [identity];
}

async function showShortedLeads(meter: Meter, run: Run, going: Told): Promise<Shown[]> {
  const shown = await readSeveral(meter, run, SHORTED_READINGS, going);
  if (run.measurement.method !== '4-wire' || !meter.measures.includes('2-wire')) return shown;
  // On the range the meter chooses itself, the lowest, the leads alone show best.
  for (const [wanted, what] of [
    ['2-wire', '2-wire-automatic'],
    ['4-wire', '4-wire-automatic'],
  ] as const) {
    shown.push({ what, raw: (await meter.readOther(wanted)).raw });
  }
  return shown;
}

async function readSeveral(meter: Meter, run: Run, readings: number, { tell, throwIfStopped }: Told): Promise<Shown[]> {
  const shown: Shown[] = [];
  while (shown.length < readings) {
    tell({ step: 'readings', done: shown.length, of: readings });
    shown.push(await readForRun(meter, run));
    throwIfStopped();
  }
  return shown;
}

async function readForRun(meter: Meter, run: Run): Promise<Shown> {
  const { raw } = await meter.read();
  return { what: run.measurement.method, raw };
}

async function readOther(meter: Meter, run: Run, what: Extract<FoundWhat, 'dc-volts' | 'temperature'>): Promise<Shown> {
  await meter.hands?.turnTo(what);
  try {
    const { raw } = await meter.readOther(what);
    return { what, raw };
  } finally {
    await meter.hands?.turnTo(run.measurement.method);
  }
}
