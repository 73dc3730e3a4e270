import { type MeterDriftPoint, meterDrift } from '../../core/drift/meterDrift.ts';
import type { Run } from '../../core/inspection/run.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { afterWords } from '../words/bench.ts';
import { counted } from '../words/count.ts';
import { formatLater } from '../words/time.ts';
import { MeterFigure } from './chartsLater.tsx';

type Point = MeterDriftPoint & { referenceOhms: string };

const shown = (ohms: string) => formatOhms(ohms).replace(' ', '\u00a0').replace('-', '−');
const signed = (ohms: string) => `${Number(ohms) > 0 ? '+' : ''}${shown(ohms)}`;

/** Whether the meter stood still, by its reference before, during and after the readings. */
export function MeterSection({ run }: { run: Run }) {
  const points = meterDrift(run.references, run.window).map((point, index) => ({
    ...point,
    referenceOhms: run.references[index]?.ohms ?? '0',
  }));
  if (points.length === 0) {
    return (
      <p>
        The meter that is connected now has measured no reference resistor, so nothing shows whether it stood still. One
        is measured in the checks of the bench.
      </p>
    );
  }
  return (
    <>
      <p className="look-say">{driftWords(points)}</p>
      {groupsOf(points).map((group) => (
        <Reference key={`${group[0]?.name} ${group[0]?.referenceOhms}`} run={run} points={group} />
      ))}
      <p className="quiet small">
        E_n: deviation over the root of the sum of the squares of both expanded uncertainties; within ±1 meter and
        reference agree (ISO/IEC 17043:2010, B.3.1.3). The meter may drift by a tenth of the tolerance at the value of
        the reference, or by two of its last digits (the rule of ten, common practice; two digits are our choice). The
        bars of the chart are ±U of the reference, k = 2; its limits are drawn from the first check.
      </p>
    </>
  );
}

/** By reference: values of different ones say nothing of each other. */
function groupsOf(points: readonly Point[]): Point[][] {
  const groups = new Map<string, Point[]>();
  for (const point of points) {
    const key = `${point.name} ${point.referenceOhms}`;
    groups.set(key, [...(groups.get(key) ?? []), point]);
  }
  return [...groups.values()];
}

function driftWords(points: readonly Point[]): string {
  const last = points.at(-1) as Point;
  const failed = points.filter(({ passed }) => !passed).length;
  const bad = failed === 0 ? '' : ` ${counted(failed, 'check', 'checks')} of the reference did not pass.`;
  const same = points.filter(({ name, referenceOhms }) => name === last.name && referenceOhms === last.referenceOhms);
  if (same.length === 1) {
    return `The reference ${last.name} was measured once, ${signed(last.deviationOhms)} off. Whether the meter moves shows with the next check.${bad}`;
  }
  const moved = Number(last.driftOhms) === 0 ? 'has not moved' : `has moved by ${signed(last.driftOhms)}`;
  return `Since its first check with the reference ${last.name} the meter ${moved}; between two checks it may move by ±${shown(last.mostDriftOhms)}.${bad}`;
}

function Reference({ run, points }: { run: Run; points: readonly Point[] }) {
  const [first] = points;
  if (!first) return null;
  const named = `reference ${first.name} of ${shown(first.referenceOhms)}`;
  return (
    <MeterFigure
      title={`What the meter shows off the ${named}`}
      points={points}
      spoken={`What the meter showed off the ${named} in ${counted(points.length, 'check', 'checks')}, with the uncertainty of the reference and how far the meter may drift. The table below has every value.`}
      table={<DriftTable run={run} named={named} points={points} />}
    />
  );
}

function DriftTable({ run, named, points }: { run: Run; named: string; points: readonly Point[] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen the table is wider and moves by the arrow keys
    <section className="look-table" aria-label={`Checks with the ${named}`} tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">Check</th>
            <th scope="col">When</th>
            <th scope="col">Shown, mean</th>
            <th scope="col">Deviation</th>
            <th scope="col">U of the reference</th>
            <th scope="col">E_n</th>
            <th scope="col">Drift since the first</th>
            <th scope="col">May drift</th>
            <th scope="col">Check passed</th>
          </tr>
        </thead>
        <tbody>
          {points.map((point, index) => (
            <tr key={`${point.at} ${point.afterReading}`}>
              <th scope="row">{index + 1}</th>
              <td>
                {capital(afterWords(point.afterReading))}
                <span className="quiet">, {formatLater(point.at, run.receivedAt)}</span>
              </td>
              <td className="figures">{shown(point.shownOhms)}</td>
              <td className="figures">{signed(point.deviationOhms)}</td>
              <td className="figures">±{shown(point.uncertaintyOhms)}</td>
              <td className="figures">{point.en === null ? 'not known' : point.en.toFixed(2).replace('-', '−')}</td>
              <td className="figures">{signed(point.driftOhms)}</td>
              <td className="figures">±{shown(point.mostDriftOhms)}</td>
              <td>{point.passed ? 'yes' : <strong>no</strong>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
