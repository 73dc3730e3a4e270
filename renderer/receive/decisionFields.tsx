import { GUARD_FACTORS, probabilityWrong } from '../../core/uncertainty/risk.ts';
import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { RULE_WORDS, ruleWords } from '../words/decision.ts';
import { probabilityText } from '../words/probability.ts';
import { type Draft, guardFactorOf } from './draft.ts';
import type { FieldOf, SetField } from './fieldOf.ts';

/** Guard bands of no width are simple acceptance, which has a choice of its own. */
const USUAL = GUARD_FACTORS.filter(({ factor }) => Number(factor) > 0);

/** What each rule means for a piece, in a sentence (ILAC-G8:09/2019, 4.2). */
const MEANING: Record<Draft['rule'], string> = {
  'simple-acceptance': 'A piece passes inside the window. The uncertainty of its reading is left out.',
  'guard-band': 'A piece passes only where its reading is inside by a guard band or more. Everything else fails.',
  'non-binary':
    'A piece within a guard band of a limit passes or fails on condition; one that passes on condition conforms.',
};

/** How the uncertainty of a reading takes part in its verdict; folded away, since simple acceptance is usual. */
export function DecisionFields({ draft, field, set }: { draft: Draft; field: FieldOf; set: SetField }) {
  const guarded = draft.rule !== 'simple-acceptance';
  return (
    <details className="receive-more">
      <summary>
        Decision rule:{' '}
        <span className="quiet">{ruleWords({ ...draft, guardFactor: guardFactorOf(draft) || '…' })}</span>
      </summary>
      <RadioField
        legend="How the uncertainty of a reading counts"
        name="rule"
        value={draft.rule}
        onChange={(value) => set('rule', value)}
        choices={Object.entries(RULE_WORDS) as [Draft['rule'], string][]}
        hint={MEANING[draft.rule]}
        term="decision-rule"
      />
      {guarded && (
        <>
          <div className="receive-row">
            <ChoiceField
              label="Width of a guard band"
              term="guard-band"
              {...field('guard')}
              onChange={(value) => set('guard', value)}
              choices={[...USUAL.map(({ factor, name }) => [factor, name] as const), ['own', 'Another width'] as const]}
            />
            {draft.guard === 'own' && (
              <TextField label="Times U" {...field('guardFactor')} inputMode="decimal" required />
            )}
          </div>
          <p className="field-hint">
            {falseAcceptance(draft)} The rule needs U: enter the meter’s accuracy, or measure a reference resistor.
          </p>
        </>
      )}
      <TextField
        label="Process spread, if known"
        term="process-spread"
        {...field('processSpread')}
        hint="Standard deviation of what the maker makes, like 12 ohm or 0.3 %. It gives the risks of the lot."
      />
    </details>
  );
}

/** What the width means for a piece that passes, by the usual words or worked out. U is made with k = 2. */
function falseAcceptance(draft: Draft): string {
  const text = guardFactorOf(draft);
  const usual = USUAL.find(({ factor }) => factor === text);
  if (usual) return `For a piece that passes: ${usual.words}.`;
  const factor = Number(text);
  if (text === '' || !(factor >= 0)) return '';
  // A piece at the acceptance limit, r · U below the only limit; u is half of U.
  const wrong = probabilityWrong(true, (-factor).toFixed(12), 0.5, { lower: null, upper: '0' });
  return `For a piece that passes: up to ${probabilityText(wrong)} of false acceptance.`;
}
