import './verdictMark.css';
import type { Standing } from './verdictWords.ts';

/** Where high is: up on a page, to the right on a line. */
export type Way = 'up' | 'right';

function turn(standing: Standing, way: Way): string | undefined {
  if (standing === 'fail-high') return way === 'up' ? undefined : 'rotate(90)';
  if (standing === 'fail-low') return way === 'up' ? 'rotate(180)' : 'rotate(-90)';
  return undefined;
}

/**
 * The shape of a verdict around the origin, 100 units wide, for use inside a drawing: pass a disc, fail a triangle that
 * points the way, open a broken ring, suspect a hatched square.
 */
export function VerdictShape({ verdict, way = 'up' }: { verdict: Standing; way?: Way }) {
  if (verdict === 'pass') return <circle className="verdict-pass" r="44" />;
  if (verdict === 'suspect') {
    const hatching = 'M -40 -4 L -4 -40 M -40 40 L 40 -40 M 4 40 L 40 4';
    return (
      <g>
        <rect className="verdict-suspect" x="-40" y="-40" width="80" height="80" />
        <path className="verdict-suspect" d={hatching} />
      </g>
    );
  }
  if (verdict === 'open') {
    // Two arcs that do not meet; the ink under them keeps orange visible on paper.
    const ring = 'M 32.6 -15.2 A 36 36 0 0 1 -15.2 32.6 M -32.6 15.2 A 36 36 0 0 1 15.2 -32.6';
    return (
      <g>
        <path className="verdict-open-edge" d={ring} />
        <path className="verdict-open" d={ring} />
      </g>
    );
  }
  return <path className="verdict-fail" d="M 0 -46 L 48 36 L -48 36 Z" transform={turn(verdict, way)} />;
}

/** The shape of a verdict by itself, in the size of the text around it. Its word always stands beside it. */
export function VerdictMark({ verdict }: { verdict: Standing }) {
  return (
    <svg className="verdict-mark" viewBox="-50 -50 100 100" aria-hidden="true" focusable="false">
      <VerdictShape verdict={verdict} />
    </svg>
  );
}
