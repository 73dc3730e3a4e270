import { calibrationAt } from '../../core/accuracy/calibration.ts';
import type { Question } from '../../core/contract/contract.ts';
import { checkDue, isPractice } from '../../core/inspection/run.ts';
import { asProblem, problem } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { CHECK_WORDS, CHECKS, type CheckName, type ReferenceFacts } from '../../core/readiness/check.ts';
import { now } from '../station/clock.ts';
import type { Job } from './job.ts';

type Asked = Omit<Question<'check-bench'>, 'run' | 'by' | 'check'>;

/** What the hands do before a check is measured. */
const PLACES: Partial<Record<CheckName, string>> = {
  'open-leads': 'hold the probes apart, so that they touch nothing',
  'shorted-leads': 'press the probes firmly against each other',
  'no-voltage': 'put the probes on the first piece, where it will be measured',
};

/**
 * Does every check of the bench that is due, in order, until none is. With a real meter a person's hands put the probes
 * where the check wants them; on the simulated bench the station's do.
 * @throws {Problem} check-failed on the simulated bench, inspection-stopped, and whatever keeps a check from being done
 */
export async function checkBench(job: Job): Promise<void> {
  await overrideCalibration(job);
  for (let check = checkDue(job.run); check !== null; check = checkDue(job.run)) {
    if (job.stop.aborted) throw problem('inspection-stopped', job.number);
    const simulated = isPractice(job.run);
    try {
      await doCheck(job, check, simulated ? waivedAhead(job, check) : await answersFor(job, check));
    } catch (thrown) {
      const found = asProblem(thrown);
      if (simulated || found.code === 'inspection-stopped') throw thrown;
      // What a failed check found was said when it became an event.
      if (found.code !== 'check-failed') job.say.line(found.message);
      await again(job);
    }
  }
}

async function doCheck(job: Job, check: CheckName, asked: Asked): Promise<void> {
  const { station, number, run } = job;
  const { entry } = await station.ask('check-bench', { run: number, by: run.inspector, check, ...asked });
  if (entry.event.type === 'bench-checked' && entry.event.outcome === 'failed') {
    throw problem('check-failed', CHECK_WORDS[check], entry.event.why);
  }
}

async function overrideCalibration({ station, number, run, options }: Job): Promise<void> {
  const reason = options.overrideCalibration;
  if (reason === undefined || !run.meter || run.overridden) return;
  if (calibrationAt(run.meter, now()).state === 'in-date') return;
  await station.ask('override-calibration', { run: number, by: run.inspector, reason });
}

async function answersFor(job: Job, check: CheckName): Promise<Asked> {
  const { run, options } = job;
  const can = (measured: 'dc-volts' | 'temperature') => run.meter?.measures.includes(measured) ?? false;
  if (check === 'no-voltage' && !can('dc-volts')) {
    await mustSayYes(
      job,
      check,
      'this meter measures no volts. Was it shown by other means that nothing is live? Type yes: ',
    );
    return { word: true };
  }
  if (check === 'reference') return reference(job);
  if (check === 'ambient') {
    const celsius =
      options.ambient ??
      (await heard(
        job,
        check,
        `ambient temperature in °C${can('temperature') ? ', or Enter to ask the meter' : ''}: `,
      ));
    return celsius === '' ? {} : { celsius };
  }
  const place = PLACES[check];
  const turn = check === 'no-voltage' && run.meter?.setByHand ? 'turn the meter to DC volts, ' : '';
  if (place !== undefined) await heard(job, check, `${turn}${place}, press Enter `);
  return {};
}

/** A reference that is done without, said on the command line. */
function waivedAhead({ options }: Job, check: CheckName): Asked {
  return check === 'reference' && options.withoutReference !== undefined ? { waived: options.withoutReference } : {};
}

async function reference(job: Job): Promise<Asked> {
  const { station, options } = job;
  if (options.withoutReference !== undefined) return waivedAhead(job, 'reference');
  const known = await station.ask('references', {});
  const names = known.map(({ name }) => name).join(', ');
  const name =
    options.reference ??
    (await heard(job, 'reference', `which reference resistor${names === '' ? '' : ` (known: ${names})`}? `));
  const facts = known.find((each) => each.name === name) ?? (await newReference(job, name));
  const turn = job.run.meter?.setByHand ? 'turn the meter to resistance, ' : '';
  await heard(job, 'reference', `${turn}put the probes on ${facts.name}, press Enter `);
  return { reference: facts };
}

async function newReference(job: Job, name: string): Promise<ReferenceFacts> {
  const facts = {
    name,
    ohms: plain(parseOhms(await heard(job, 'reference', `${name} is not known yet. Its value, like 4k7: `))),
    uncertaintyOhms: await heard(job, 'reference', 'expanded uncertainty of that value in ohms, like 0.5: '),
    due: await heard(job, 'reference', 'last day on which it counts, like 2027-06-30: '),
  };
  await job.station.ask('save-reference', { reference: facts });
  return facts;
}

async function mustSayYes(job: Job, check: CheckName, question: string): Promise<void> {
  const answer = await heard(job, check, question);
  if (answer.toLowerCase() !== 'yes')
    throw problem('check-failed', CHECK_WORDS[check], 'it was not said that nothing is live');
}

async function again(job: Job): Promise<void> {
  const answer = await job.person.answer('Press Enter to do this check again (q stops) ');
  if (answer === null || answer.trim() === 'q') throw problem('inspection-stopped', job.number);
}

/** What the person answers to a check. @throws {Problem} inspection-stopped where there is nobody, or who says q */
async function heard(job: Job, check: CheckName, question: string): Promise<string> {
  const answer = await job.person.answer(`Check ${CHECKS.indexOf(check) + 1} of ${CHECKS.length}: ${question}`);
  if (answer === null || answer.trim() === 'q') throw problem('inspection-stopped', job.number);
  return answer.trim();
}
