import type { PointVerdict } from '../../core/continuity/judgePoint.ts';

/** A shape for a verdict, beside its words: a filled disc, a triangle, a hatched square. */
export function PointMark({ verdict }: { verdict: PointVerdict }) {
  return (
    <svg className="wiring-mark" viewBox="0 0 16 16" aria-hidden="true" focusable="false">
      {verdict === 'as-expected' && <circle className="wiring-mark-good" cx="8" cy="8" r="6" />}
      {verdict === 'not-as-expected' && <path className="wiring-mark-bad" d="M8 1 L15 14 H1 Z" />}
      {verdict === 'cannot-tell' && (
        <>
          <rect className="wiring-mark-unsure" x="2" y="2" width="12" height="12" />
          <path className="wiring-mark-unsure" d="M2 8 L8 2 M2 14 L14 2 M8 14 L14 8" />
        </>
      )}
    </svg>
  );
}

/** Two terminals as they are to be: joined, or apart. */
export function PairShape({ expected }: { expected: 'closed' | 'open' }) {
  return (
    <svg className="wiring-shape" viewBox="-50 -22 100 44" aria-hidden="true" focusable="false">
      <path d={expected === 'closed' ? 'M -40 0 H 40' : 'M -40 0 H -14 M 14 0 H 40'} />
      <circle cx="-40" cy="0" r="8" />
      <circle cx="40" cy="0" r="8" />
    </svg>
  );
}
