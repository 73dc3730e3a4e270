import type { ReactNode } from 'react';
import type { Grade } from '../../core/study/words.ts';

const GRADE_WORDS: Record<Grade, string> = {
  good: 'Good',
  depends: 'Consider',
  'not-fit': 'Not fit',
  open: 'Remark',
};

const SHAPES: Record<Grade, ReactNode> = {
  good: <circle className="grade-good-shape" r="44" />,
  depends: (
    <g>
      <circle className="grade-ring" r="38" />
      <path className="grade-half" d="M 0 -38 A 38 38 0 0 0 0 38 Z" />
    </g>
  ),
  'not-fit': <path className="grade-cross" d="M -36 -36 L 36 36 M -36 36 L 36 -36" />,
  open: <path className="grade-ring" d="M -40 0 L 40 0" />,
};

/** How fit a gauge is in one respect, as a shape and its word: good a filled disc, what is to be considered half a disc, not fit a cross. */
export function GradeMark({ grade }: { grade: Grade }) {
  return (
    <span className={`grade grade-${grade}`}>
      <svg viewBox="-50 -50 100 100" aria-hidden="true" focusable="false">
        {SHAPES[grade]}
      </svg>
      {GRADE_WORDS[grade]}
    </span>
  );
}
