import { useId } from 'react';
import type { Warning } from './warnings.ts';

/** One line of warnings: the most important one, and how many more there are; those unfold over the screen. */
export function WarningLine({ warnings }: { warnings: readonly Warning[] }) {
  const id = useId();
  const [first, ...more] = warnings;
  return (
    <div className="warning-line">
      {first && (
        <p>
          <strong>Note:</strong> {first.words}
        </p>
      )}
      {more.length > 0 && (
        <>
          <button type="button" className="warning-more" popoverTarget={id}>
            and {more.length} more
          </button>
          <ul id={id} popover="auto" className="warning-list">
            {warnings.map(({ kind, words }) => (
              <li key={kind}>{words}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}
