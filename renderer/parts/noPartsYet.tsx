import type { ReactNode } from 'react';

/** The parts list before its first part: what it is for, and how parts come into it. */
export function NoPartsYet({ children }: { children: ReactNode }) {
  return (
    <div className="no-parts">
      <p className="no-parts-what">
        What a part number means is entered once: value, tolerance, plan, range, reference. From then on the number,
        typed or scanned, fills the form when a lot of it arrives.
      </p>
      <div className="actions">{children}</div>
      <ul className="no-parts-ways">
        <li>
          <strong>Add a part.</strong> Type its value, or read it off a piece by its colour bands or its code.
        </li>
        <li>
          <strong>Import from CSV.</strong> A list from a spreadsheet or stock program: two columns are enough, part and
          tolerance. What would come in is shown before anything is kept.
        </li>
        <li>
          <strong>Keep it while receiving.</strong> The receiving form keeps what was entered there as a part.
        </li>
      </ul>
    </div>
  );
}
