import './verdictMark.css';
import type { Standing } from './verdictWords.ts';

/** Where high is: up on a page, to the right on a line. */
export type Way = 'up' | 'right';

/** A triangle that points up, turned to where its verdict lies. */
function turn(standing: Standing, way: Way): string | undefined {
  const high = standing === 'fail-high' || standing === 'conditional-fail-high';
  if (high) return way === 'up' ? undefined : 'rotate(90)';
  return way === 'up' ? 'rotate(180)' : 'rotate(-90)';
}

/**
 * The shape of a verdict around the origin, 100 units wide, for use inside a drawing: pass a disc, fail a triangle that
 * points the way, open a broken ring, suspect a hatched square. On condition it is the same shape, half filled.
 */
export function VerdictShape({ verdict, way = 'up' }: { verdict: Standing; way?: Way }) {
  switch (verdict) {
    case 'pass':
      return <circle className="verdict-pass" r="44" />;
    case 'conditional-pass':
      return (
        <g>
          <circle className="verdict-half-pass" r="39" />
          <path className="verdict-pass" d="M 0 -39 A 39 39 0 0 0 0 39 Z" />
        </g>
      );
    case 'suspect': {
      const hatching = 'M -40 -4 L -4 -40 M -40 40 L 40 -40 M 4 40 L 40 4';
      return (
        <g>
          <rect className="verdict-suspect" x="-40" y="-40" width="80" height="80" />
          <path className="verdict-suspect" d={hatching} />
        </g>
      );
    }
    case 'open': {
      // Two arcs that do not meet; the ink under them keeps orange visible on paper.
      const ring = 'M 32.6 -15.2 A 36 36 0 0 1 -15.2 32.6 M -32.6 15.2 A 36 36 0 0 1 15.2 -32.6';
      return (
        <g>
          <path className="verdict-open-edge" d={ring} />
          <path className="verdict-open" d={ring} />
        </g>
      );
    }
    case 'fail-low':
    case 'fail-high':
      return <path className="verdict-fail" d="M 0 -46 L 48 36 L -48 36 Z" transform={turn(verdict, way)} />;
    case 'conditional-fail-low':
    case 'conditional-fail-high':
      return (
        <g transform={turn(verdict, way)}>
          <path className="verdict-half-fail" d="M 0 -36 L 39 31 L -39 31 Z" />
          <path className="verdict-fail" d="M 0 -36 L 0 31 L -39 31 Z" />
        </g>
      );
  }
}

/** The shape of a verdict by itself, in the size of the text around it. Its word always stands beside it. */
export function VerdictMark({ verdict }: { verdict: Standing }) {
  return (
    <svg className="verdict-mark" viewBox="-50 -50 100 100" aria-hidden="true" focusable="false">
      <VerdictShape verdict={verdict} />
    </svg>
  );
}
