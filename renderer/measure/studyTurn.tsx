import { capital } from '../../core/quantity/sentence.ts';
import type { Plan } from '../../core/sampling/plan.ts';
import type { StudyChoice } from '../../core/study/studyPlan.ts';
import { pieceName, takesOver } from '../words/turn.ts';

/** The turn of a study that is due: which piece, by whom, and who takes over from whom. */
export function StudyTurn({ choice, plan, turn }: { choice: StudyChoice; plan: Plan; turn: number }) {
  const operator = takesOver(choice, turn);
  return (
    <div aria-live="polite">
      <p className="turn">{capital(pieceName(plan, turn))}</p>
      {operator !== null && (
        <p className="turn-operator">
          <strong>{turn === 1 ? `Operator ${operator} begins.` : `Operator ${operator} takes over.`}</strong> The others
          do not watch or help.
        </p>
      )}
    </div>
  );
}
