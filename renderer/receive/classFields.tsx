import type { Stopping } from '../../core/inspection/event.ts';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import type { Draft } from './draft.ts';
import type { PlanFieldsProps } from './planFields.tsx';

const STOPPING_WORDS: Record<Stopping, string> = {
  'when-refused': 'as soon as the lot cannot be accepted',
  'when-certain': 'as soon as the decision is certain',
  never: 'never: the sample is completed',
};

/** Open, short and wrong values as a class of their own, and when measuring may end; folded away, since the usual suits. */
export function ClassFields({ draft, field, set }: PlanFieldsProps) {
  return (
    <details className="receive-more">
      <summary>
        Wrong value, open, short: <span className="quiet">{classWords(draft)}</span>
      </summary>
      <RadioField
        legend="Open pieces, shorts and wrong values"
        name="classes"
        term="class-a"
        value={draft.classes}
        onChange={(value) => set('classes', value)}
        choices={[
          ['told-apart', 'are counted by themselves (class A) as well'],
          ['alike', 'count as every nonconforming piece'],
        ]}
      />
      {draft.classes === 'told-apart' && (
        <div className="receive-row">
          <TextField label="Of these accepted" {...field('classAAccept')} inputMode="numeric" required />
          <TextField
            label="Wrong value, % beyond a limit"
            {...field('classABeyondPercent')}
            inputMode="decimal"
            required
          />
        </div>
      )}
      <ChoiceField
        label="Measuring ends before the sample is complete"
        {...field('stopping')}
        onChange={(value) => set('stopping', value)}
        choices={Object.entries(STOPPING_WORDS) as [Stopping, string][]}
        hint="A sample that is not completed says less of the lot’s average quality."
      />
    </details>
  );
}

function classWords({ classes, classAAccept, stopping }: Draft): string {
  const accepted = classAAccept.trim() === '0' ? 'none accepted' : `${classAAccept} accepted`;
  const told = classes === 'alike' ? 'as any other' : accepted;
  return stopping === 'when-refused' ? told : `${told}; measuring ends ${STOPPING_WORDS[stopping]}`;
}
