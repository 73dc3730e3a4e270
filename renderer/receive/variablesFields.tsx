import { VARIABLES_AQLS, VARIABLES_LEVELS } from '../../core/sampling/variablesPlan.ts';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { AqlField } from './aqlFields.tsx';
import type { PlanFieldsProps } from './planFields.tsx';
import { PointsFields } from './pointsFields.tsx';

/** A plan by mean and spread of the values. */
export function VariablesFields({ draft, field, set }: PlanFieldsProps) {
  return (
    <>
      <RadioField
        legend="Mean and spread by"
        name="variablesBy"
        value={draft.variablesBy}
        onChange={(value) => set('variablesBy', value)}
        choices={[
          ['aql', 'AQL and level'],
          ['two-point', 'two qualities and their risks'],
        ]}
        hint="Takes fewer pieces than counting, where the values look normal. Where they do not, more are measured and counted; that is said then."
      />
      {draft.variablesBy === 'aql' ? (
        <div className="receive-row receive-row-many">
          <AqlField field={field} set={set} aqls={VARIABLES_AQLS} />
          <ChoiceField
            label="Inspection level"
            {...field('variablesLevel')}
            onChange={(value) => set('variablesLevel', value)}
            choices={VARIABLES_LEVELS.map((level) => [level, level === 'IV' ? 'IV, usual' : level] as const)}
          />
          <ChoiceField
            label="Inspection"
            {...field('variablesSeverity')}
            onChange={(value) => set('variablesSeverity', value)}
            choices={[
              ['normal', 'normal'],
              ['tightened', 'tightened'],
            ]}
          />
        </div>
      ) : (
        <>
          <PointsFields field={field} />
          <TextField
            label="Spread, where it is known"
            {...field('knownSpread')}
            hint="Standard deviation of the process, like 12 ohm or 0.3 %. Left empty it is taken from the sample."
          />
        </>
      )}
    </>
  );
}
