import type { ReactNode } from 'react';
import type { Outcome } from '../../core/readiness/check.ts';
import { OUTCOME_WORDS } from './outcomeWords.ts';
import './outcomeMark.css';

const SHAPES: Record<Outcome, ReactNode> = {
  passed: <circle className="outcome-shape-passed" r="44" />,
  failed: <path className="outcome-shape-failed" d="M -36 -36 L 36 36 M -36 36 L 36 -36" />,
  // Not shown by a meter: the disc is not filled.
  'by-word': <circle className="outcome-shape-said" r="36" />,
  waived: <path className="outcome-shape-said" d="M -40 0 L 40 0" />,
};

/**
 * How a check of the bench came out, as a shape and its word: passed a filled disc, failed a cross, said by somebody an
 * empty disc, waived a stroke.
 * @param words in place of the outcome's own
 */
export function OutcomeMark({ outcome, words }: { outcome: Outcome; words?: string }) {
  return (
    <span className={`outcome outcome-${outcome}`}>
      <svg viewBox="-50 -50 100 100" aria-hidden="true" focusable="false">
        {SHAPES[outcome]}
      </svg>
      {words ?? OUTCOME_WORDS[outcome]}
    </span>
  );
}
