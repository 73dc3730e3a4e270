import type { Disposition } from '../../core/inspection/event.ts';

/** What is drawn of each disposition in a square of 100 units: told apart by their lines, not by colour. */
const LINES: Record<Disposition, string> = {
  accepted: 'M 18 54 L 42 78 L 84 24',
  'not-accepted': 'M 20 20 L 80 80 M 80 20 L 20 80',
  'on-hold': 'M 36 20 V 80 M 64 20 V 80',
  studied: 'M 20 30 H 80 M 20 50 H 80 M 20 70 H 80',
};

/** The shape of a disposition beside its word. */
export function DispositionShape({ disposition }: { disposition: Disposition }) {
  return (
    <svg className="disposition-shape" viewBox="0 0 100 100" aria-hidden="true" focusable="false">
      <path d={LINES[disposition]} />
    </svg>
  );
}
