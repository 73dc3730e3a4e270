import { capital } from '../../core/quantity/sentence.ts';
import { type Budget, type Contribution, DIVISORS, type Distribution } from '../../core/uncertainty/budget.ts';
import { formatCount } from '../words/count.ts';
import { figureText } from '../words/figures.ts';
import { ohmsFigure } from '../words/ohmsFigure.ts';

/** A budget of uncertainty line by line, each with where its figure comes from. */
export function BudgetTable({ budget }: { budget: Budget }) {
  const like = budget.expandedOhms;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen the table is wider and moves by the arrow keys
    <section className="look-table" aria-label="Budget of uncertainty" tabIndex={0}>
      <table className="budget">
        <thead>
          <tr>
            <th scope="col">What, and where it comes from</th>
            <th scope="col">Given</th>
            <th scope="col">Distribution</th>
            <th scope="col">Divisor</th>
            <th scope="col">Standard uncertainty</th>
            <th scope="col">Sensitivity</th>
            <th scope="col">Contribution</th>
            <th scope="col">Degrees of freedom</th>
            <th scope="col">Share</th>
          </tr>
        </thead>
        <tbody>
          {budget.contributions.map((line) => (
            <Line key={line.name} line={line} like={like} />
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Combined, u</th>
            <td colSpan={5} />
            <td className="figures">{inUnit(budget.combinedOhms, like)}</td>
            <td>{freedomText(budget.effectiveDegreesOfFreedom)}</td>
            <td className="figures">100&nbsp;%</td>
          </tr>
        </tfoot>
      </table>
    </section>
  );
}

/** @param like U, whose unit all ohms share */
function Line({ line, like }: { line: Contribution; like: number }) {
  const { name, source, estimate, given, distribution, divisor, standardUncertainty, unit, sensitivity } = line;
  return (
    <tr>
      <th scope="row">
        {capital(name)}
        <span className="budget-source">{capital(source)}</span>
      </th>
      <td>
        <span className="figures">{given}</span>
        {estimate !== undefined && !/^0\b/.test(estimate) && (
          <span className="budget-source figures">of {estimate}</span>
        )}
      </td>
      <td>{DISTRIBUTION_WORDS[distribution]}</td>
      <td>{divisorText(distribution, divisor)}</td>
      <td className="figures">
        {unit === 'Ω' ? inUnit(standardUncertainty, like) : `${figureText(standardUncertainty)}\u00a0${unit}`}
      </td>
      <td>{sensitivityText(sensitivity, unit, like)}</td>
      <td className="figures">{inUnit(line.ohms, like)}</td>
      <td>{freedomText(line.degreesOfFreedom)}</td>
      <td className="figures">{shareText(line.sharePercent)}</td>
    </tr>
  );
}

const DISTRIBUTION_WORDS: Record<Distribution, string> = {
  normal: 'normal',
  rectangular: 'rectangular',
  triangular: 'triangular',
  'u-shaped': 'U-shaped',
};

const ROOTS: Record<Exclude<Distribution, 'normal'>, string> = {
  rectangular: '√3',
  triangular: '√6',
  'u-shaped': '√2',
};

function divisorText(distribution: Distribution, divisor: number): string {
  return distribution !== 'normal' && divisor === DIVISORS[distribution] ? ROOTS[distribution] : figureText(divisor);
}

function inUnit(ohms: number, like: number): string {
  return ohmsFigure(ohms, { significant: 3, like });
}

function sensitivityText(sensitivity: number, unit: string, like: number): string {
  const text = unit === 'Ω' ? figureText(sensitivity) : `${inUnit(sensitivity, like)} per\u00a0${unit}`;
  return text.replace('-', '−');
}

/** From so many degrees of freedom on they are given in three figures, and from so many on as more than that. */
const MANY = 1000;
const MORE_THAN_MATTER = 1_000_000;

/** Degrees of freedom, `∞` where there are infinitely many. */
export function freedomText(degreesOfFreedom: number | null): string {
  if (degreesOfFreedom === null) return '∞';
  if (degreesOfFreedom > MORE_THAN_MATTER) return `over\u00a0${formatCount(MORE_THAN_MATTER)}`;
  const text = figureText(degreesOfFreedom);
  return degreesOfFreedom < MANY ? text : formatCount(Number(text));
}

/** A share of the square of u, like `72 %`; little is not nothing. */
export function shareText(percent: number): string {
  if (percent === 0) return '0\u00a0%';
  if (percent < 0.1) return 'under\u00a00.1\u00a0%';
  return `${percent < 10 ? percent.toFixed(1) : percent.toFixed(0)}\u00a0%`;
}
