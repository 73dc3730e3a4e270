import type { Series } from '../../core/inspection/lotClaim.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { AqlFields } from './aqlFields.tsx';
import { ClassFields } from './classFields.tsx';
import type { Draft } from './draft.ts';
import type { FieldOf, SetField } from './fieldOf.ts';
import { ConsumerFields, PointsFields } from './pointsFields.tsx';
import { VariablesFields } from './variablesFields.tsx';

const POSITION_HINTS: Record<Draft['positions'], string> = {
  random: 'Drawn when the lot is received; the seed stands in the record and on the certificate.',
  spread: 'The probabilities of the plan hold for a random sample; this is none.',
  'as-taken': 'Where a piece was taken is not noted. A piece counts as the next one on the reel.',
};

const PLANS: readonly (readonly [Draft['planBy'], string])[] = [
  ['aql', 'AQL and level'],
  ['zero-acceptance', 'Zero acceptance'],
  ['two-point', 'Two qualities and their risks'],
  ['variables', 'Mean and spread (variables)'],
  ['every-piece', 'Every piece (100 %)'],
  ['agreed', 'Agreed numbers'],
];

export interface PlanFieldsProps {
  draft: Draft;
  field: FieldOf;
  set: SetField;
}

/** How many pieces are measured, where they are taken, and what decides. */
export function PlanFields(
  props: PlanFieldsProps & { plan: Plan | null; series: Series | null; shape?: string | null; ofPart?: boolean },
) {
  const { draft, plan, field, set, shape = null } = props;
  const fields = { draft, field, set };
  return (
    <>
      <ChoiceField
        label="Plan"
        term="sampling-plan"
        {...field('planBy')}
        onChange={(value) => set('planBy', value)}
        choices={PLANS.filter(([by]) => by !== 'variables' || shape === null || draft.planBy === by)}
        hint={shape === null ? undefined : `Mean and spread do not suit these lots. ${shape}`}
      />
      {draft.planBy === 'aql' && <AqlFields {...fields} series={props.series} ofPart={props.ofPart ?? false} />}
      {draft.planBy === 'agreed' && (
        <div className="receive-row">
          <TextField label="Pieces to measure" {...field('sampleSize')} inputMode="numeric" required />
          <TextField
            label="Nonconforming accepted"
            term="acceptance-number"
            {...field('accept')}
            inputMode="numeric"
            required
          />
        </div>
      )}
      {draft.planBy === 'zero-acceptance' && (
        <div className="receive-row">
          <ConsumerFields field={field} />
        </div>
      )}
      {draft.planBy === 'two-point' && (
        <>
          <PointsFields field={field} />
          <RadioField
            legend="The risks are those of"
            name="countedOf"
            value={draft.countedOf}
            onChange={(value) => set('countedOf', value)}
            choices={[
              ['process', 'lots from one process'],
              ['lot', 'this very lot'],
            ]}
            hint={
              draft.countedOf === 'lot'
                ? 'Counted exactly for the size of this lot; the sample may be smaller.'
                : 'Holds for lots of any size.'
            }
          />
        </>
      )}
      {draft.planBy === 'variables' && <VariablesFields {...fields} />}
      {draft.planBy === 'every-piece' && (
        <TextField
          label="Nonconforming accepted of all"
          {...field('acceptOfAll')}
          inputMode="numeric"
          hint="Found nonconforming pieces are sorted out; how many may there be for the rest to go to stock?"
          required
        />
      )}
      {plan?.everyPiece ? (
        <p className="quiet">Every piece is measured: take them one after the other from the reel.</p>
      ) : (
        <RadioField
          legend="Take the pieces from the reel"
          name="positions"
          term="positions"
          value={draft.positions}
          onChange={(value) => set('positions', value)}
          choices={[
            ['random', 'At positions drawn at random'],
            ['spread', 'At beginning, middle and end'],
            ['as-taken', 'As they come'],
          ]}
          hint={POSITION_HINTS[draft.positions]}
        />
      )}
      <ClassFields {...fields} />
    </>
  );
}
