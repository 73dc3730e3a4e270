import { LEVELS } from '../../core/sampling/codeLetter.ts';
import { AQLS } from '../../core/sampling/normalPlan.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import type { Draft } from './draft.ts';
import type { FieldOf, SetField } from './fieldOf.ts';

/** AQLs for nonconforming pieces end at 10 (MIL-STD-105E, 4.3). */
const PERCENT_AQLS = AQLS.filter((aql) => Number(aql) <= 10);

const POSITION_HINTS: Record<Draft['positions'], string> = {
  random: 'Drawn when the lot is received; the seed stands in the record and on the certificate.',
  spread: 'The probabilities of the plan hold for a random sample; this is none.',
  'as-taken': 'Where a piece was taken is not noted. A piece counts as the next one on the reel.',
};

/** How many pieces are measured, where they are taken and how many nonconforming ones are accepted. */
export function PlanFields(props: { draft: Draft; plan: Plan | null; field: FieldOf; set: SetField }) {
  const { draft, plan, field, set } = props;
  return (
    <>
      <RadioField
        legend="Sample by"
        unseenLegend
        name="planBy"
        value={draft.planBy}
        onChange={(value) => set('planBy', value)}
        choices={[
          ['aql', 'AQL and level'],
          ['agreed', 'Agreed numbers'],
        ]}
      />
      <div className="receive-row">
        {draft.planBy === 'aql' ? (
          <>
            <ChoiceField
              label="AQL, per cent"
              term="aql"
              {...field('aql')}
              onChange={(value) => set('aql', value)}
              choices={PERCENT_AQLS.map((aql) => [aql, aql] as const)}
            />
            <ChoiceField
              label="Inspection level"
              term="inspection-level"
              {...field('level')}
              onChange={(value) => set('level', value)}
              choices={LEVELS.map((level) => [level, level === 'II' ? 'II, usual' : level] as const)}
            />
          </>
        ) : (
          <>
            <TextField label="Pieces to measure" {...field('sampleSize')} inputMode="numeric" required />
            <TextField
              label="Nonconforming accepted"
              term="acceptance-number"
              {...field('accept')}
              inputMode="numeric"
              required
            />
          </>
        )}
      </div>
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
    </>
  );
}
