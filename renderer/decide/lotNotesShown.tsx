import { useMemo } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { lotNotes } from './lotNotes.ts';

/** What the readings together say, for who decides the lot. */
export default function LotNotesShown({ run }: { run: Run }) {
  const { readings, window, lot, positions, part, measurement, references } = run;
  const notes = useMemo(
    () => lotNotes({ readings, window, lot, positions, part, measurement, references }),
    [readings, window, lot, positions, part, measurement, references],
  );
  return notes.map((note) => (
    <p key={note} className="decide-note">
      <strong>Note:</strong> {note}
    </p>
  ));
}
