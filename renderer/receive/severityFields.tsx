import type { Series } from '../../core/inspection/lotClaim.ts';
import { ChoiceField, TextField } from '../controls/field.tsx';
import { counted } from '../words/count.ts';
import type { PlanFieldsProps } from './planFields.tsx';

const SAYS = {
  normal: 'normal inspection',
  tightened: 'tightened inspection',
  reduced: 'reduced inspection',
  discontinued: 'inspection is discontinued',
} as const;

/** How severe inspection is: by the switching rules, or as somebody answers for. */
export function SeverityFields({ draft, field, set, series }: PlanFieldsProps & { series: Series | null }) {
  const switching = series?.switching ?? null;
  const says = switching?.severity ?? 'normal';
  const isFree = draft.severity === 'reduced' && (switching?.reducedAllowed ?? false);
  const isOverride = says === 'discontinued' || (draft.severity !== 'by-rule' && draft.severity !== says && !isFree);
  return (
    <details className="receive-more" open={says !== 'normal' || isOverride || undefined}>
      <summary>
        Severity:{' '}
        <span className="quiet">
          {draft.severity === 'by-rule' ? `${SAYS[says]}, by the switching rules` : draft.severity}
        </span>
      </summary>
      {switching && (
        <p className="quiet small" role="status">
          {switching.why}
          {switching.score !== null && ` Switching score ${switching.score}.`}
          {switching.behind.length > 0 && ` It rests on ${counted(switching.behind.length, 'lot', 'lots')}.`}
          {switching.reducedAllowed && ' Where production is steady, reduced inspection may be chosen.'}
        </p>
      )}
      {series !== null && series.offeredAgainAfter !== null && (
        <p className="field-hint">
          This lot was decided in run {series.offeredAgainAfter} and is offered again: it is marked so and does not
          count for switching.
        </p>
      )}
      <ChoiceField
        label="Inspection"
        term="switching"
        {...field('severity')}
        onChange={(value) => set('severity', value)}
        choices={[
          ['by-rule', 'by the switching rules'],
          ['normal', 'normal'],
          ['tightened', 'tightened'],
          ['reduced', 'reduced'],
        ]}
      />
      {isOverride && (
        <div className="receive-row">
          <TextField label="Who answers for it" {...field('overrideBy')} required />
          <TextField label="Why" {...field('overrideReason')} required />
        </div>
      )}
    </details>
  );
}
