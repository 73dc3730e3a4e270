import { capital } from '../../core/quantity/sentence.ts';
import type { Budget } from '../../core/uncertainty/budget.ts';
import { shareText } from './budgetTable.tsx';

/** How much each contribution has of the square of u, the largest first: what to better when U is too large. */
export function ShareBars({ budget }: { budget: Budget }) {
  const lines = budget.contributions.toSorted((a, b) => b.sharePercent - a.sharePercent);
  return (
    <ul className="share-bars" aria-label="Shares of the square of u, the largest first">
      {lines.map(({ name, sharePercent }) => (
        <li key={name}>
          <span>{capital(name)}</span>
          <span className="share-bar" aria-hidden="true">
            <span style={{ width: `${Math.min(100, Math.max(0, sharePercent)).toFixed(2)}%` }} />
          </span>
          <span className="figures">{shareText(sharePercent)}</span>
        </li>
      ))}
    </ul>
  );
}
