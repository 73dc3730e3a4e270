import type { Series } from '../../core/inspection/lotClaim.ts';
import { LEVELS } from '../../core/sampling/codeLetter.ts';
import { AQLS, STANDARDS } from '../../core/sampling/singlePlan.ts';
import { ChoiceField, RadioField } from '../controls/field.tsx';
import type { PlanFieldsProps } from './planFields.tsx';
import { SeverityFields } from './severityFields.tsx';

/** Of these AQLs one that counts nonconforming pieces: such end at 10 (MIL-STD-105E, 4.3). */
export function AqlField({ field, set, aqls }: Omit<PlanFieldsProps, 'draft'> & { aqls: readonly string[] }) {
  return (
    <ChoiceField
      label="AQL, per cent"
      term="aql"
      {...field('aql')}
      onChange={(value) => set('aql', value)}
      choices={aqls.filter((aql) => Number(aql) <= 10).map((aql) => [aql, aql] as const)}
    />
  );
}

/** A plan from the tables: by AQL and level, one or two samples, normal, tightened or reduced. */
export function AqlFields(props: PlanFieldsProps & { series: Series | null; ofPart: boolean }) {
  const { draft, field, set, series, ofPart } = props;
  return (
    <>
      <div className="receive-row">
        <AqlField field={field} set={set} aqls={AQLS} />
        <ChoiceField
          label="Inspection level"
          term="inspection-level"
          {...field('level')}
          onChange={(value) => set('level', value)}
          choices={LEVELS.map((level) => [level, level === 'II' ? 'II, usual' : level] as const)}
        />
      </div>
      <details className="receive-more">
        <summary>
          Standard and samples: <span className="quiet">{standardWords(draft)}</span>
        </summary>
        <ChoiceField
          label="Standard"
          {...field('standard')}
          onChange={(value) => set('standard', value)}
          choices={STANDARDS.map((standard) => [standard, standard] as const)}
          hint="They differ in reduced inspection and in when it may begin; MIL-STD-105E is in the public domain."
        />
        <RadioField
          legend="Samples"
          name="sampling"
          term="double-sampling"
          value={draft.sampling}
          onChange={(value) => set('sampling', value)}
          choices={[
            ['single', 'one'],
            ['double', 'a second one where the first leaves it open'],
          ]}
          hint={field('sampling').problem}
        />
      </details>
      {!ofPart && <SeverityFields draft={draft} field={field} set={set} series={series} />}
    </>
  );
}

function standardWords({ standard, sampling }: PlanFieldsProps['draft']): string {
  return `${standard}, ${sampling} sampling`;
}
