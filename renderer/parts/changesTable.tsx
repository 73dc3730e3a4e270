import type { PartChange } from '../../core/part/partsPreview.ts';

/** What a part says now and would say then, column by column. Nothing there is said in words. */
export function ChangesList({ changes }: { changes: readonly PartChange[] }) {
  return (
    <ul className="part-changes">
      {changes.map(({ column, before, after }) => (
        <li key={column}>
          <code className="machine">{column}</code> {before || <span className="quiet">nothing</span>} →{' '}
          <strong>{after || 'nothing'}</strong>
        </li>
      ))}
    </ul>
  );
}
