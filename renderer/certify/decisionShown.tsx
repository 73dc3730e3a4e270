import type { Row } from '../../core/certificate/format.ts';
import { worthRows } from '../../core/certificate/worthRows.ts';
import type { Run } from '../../core/inspection/run.ts';
import { capital, sentence } from '../../core/quantity/sentence.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { acceptanceText, ruleWords, temperatureWords } from '../words/decision.ts';
import { uncertaintyText } from '../words/uncertainty.ts';

/** What the verdicts rest on: the rule, the temperature, and what the readings are worth, as it stands on the certificate. */
export function DecisionShown({ run }: { run: Run }) {
  const { window, decision, temperature } = run;
  const acceptance = acceptanceText(window, decision, guardOf(run).expandedOhms);
  return (
    <section className="certify-file" aria-labelledby="certify-decision">
      <h2 id="certify-decision">What the verdicts are worth</h2>
      <dl className="certify-facts">
        <dt>Decision rule</dt>
        <dd>
          {ruleWords(decision)}
          {acceptance && <span className="quiet">, at the last reading {acceptance}</span>}
        </dd>
        <dt>Temperature</dt>
        <dd>Values {temperatureWords(temperature)}</dd>
        {worthRows(run)
          .filter(saysSomething)
          .map((row) => (
            <div key={row.item} className="certify-pair">
              <dt>{capital(row.item)}</dt>
              <dd>
                {figureOf(row)}
                {row.text && (
                  <span className="quiet">{figureOf(row) === '' ? sentence(row.text) : `, ${row.text}`}</span>
                )}
              </dd>
            </div>
          ))}
      </dl>
    </section>
  );
}

/** A row of the certificate without a figure and without a word, or of none of something, needs no line here. */
function saysSomething(row: Row): boolean {
  return figureOf(row) !== '' || (row.text !== undefined && row.text !== '' && row.text !== '0');
}

function figureOf({ expanded_ohms, coverage_factor, number, percent }: Row): string {
  if (expanded_ohms && coverage_factor) {
    return uncertaintyText({ expandedOhms: expanded_ohms, coverageFactor: coverage_factor });
  }
  return percent ? `${percent}\u00a0%` : (number ?? '');
}
