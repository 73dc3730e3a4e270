import { notToldApart } from '../../core/diagnosis/readingCauses.ts';
import { capital } from '../../core/quantity/sentence.ts';
import './causesShown.css';

/** What may be wrong, best first: each cause with its evidence and what to do next, and whether the first ones can be told apart. */
export function CausesShown(props: {
  causes: readonly { cause: string; weight: number; evidence: string; next: string }[];
  /** What the causes are of, before "cannot tell between". */
  of: string;
}) {
  const { causes, of } = props;
  const alike = notToldApart(causes);
  return (
    <>
      {alike > 1 && (
        <p>
          {of} cannot tell between the first {alike}.
        </p>
      )}
      <ol className="causes">
        {causes.map(({ cause, evidence, next }) => (
          <li key={cause}>
            <p>
              <strong>{capital(cause)}.</strong> {evidence}
            </p>
            <p className="quiet">Next: {next}</p>
          </li>
        ))}
      </ol>
      {causes.length > 0 && <p className="quiet small">A help to find the cause. It changes no verdict.</p>}
    </>
  );
}
