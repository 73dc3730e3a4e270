import { memo } from 'react';
import type { Live } from '../../core/contract/contract.ts';
import type { Window } from '../../core/window/window.ts';
import { placeOn, windowScale } from '../windowBar/windowScale.ts';
import { windowText } from '../words/ohms.ts';
import './liveLevel.css';

const percent = (share: number) => `${(share * 100).toFixed(2)}%`;

/**
 * What the meter shows at this moment, on the scale of the window bar: hollow while the contact is not steady, filled once the
 * reading is captured, a broken ring at the end of the line while nothing conducts. Small enough to be drawn with each news;
 * whoever holds the news should hold nothing else, so that nothing else is drawn anew.
 */
export const LiveLevel = memo(function LiveLevel({
  window,
  live,
}: {
  window: Window;
  live: Pick<Live, 'ohms' | 'phase'>;
}) {
  const { ohms, phase } = live;
  const scale = windowScale(window);
  return (
    <svg
      className={`live-level live-level-${phase}`}
      role="img"
      aria-label={`Level at the probes, against the window ${windowText(window)}`}
    >
      <line className="live-level-line" x1="0" x2="100%" y1="50%" y2="50%" />
      <rect
        className="live-level-band"
        x={percent(scale.band.start)}
        width={percent(scale.band.end - scale.band.start)}
        y="20%"
        height="60%"
      />
      {window.lower !== null && <Limit at={scale.band.start} />}
      {window.upper !== null && <Limit at={scale.band.end} />}
      <Needle at={phase === 'off' || phase === 'waiting' ? null : placeOn(scale, ohms)} isOpen={ohms === null} />
    </svg>
  );
});

function Limit({ at }: { at: number }) {
  return <line className="live-level-limit" x1={percent(at)} x2={percent(at)} y1="8%" y2="92%" />;
}

/** The same nodes for every place, so that a news moves them and makes none. */
function Needle({ at, isOpen }: { at: ReturnType<typeof placeOn> | null; isOpen: boolean }) {
  if (at === null) return null;
  const shape = isOpen ? OPEN : at.beyond === 'above' ? ABOVE : at.beyond === 'below' ? BELOW : ON_SCALE;
  return (
    <svg className="live-level-at" x={percent(at.at)} y="50%" width="1" height="1" aria-hidden="true">
      <path className={isOpen ? 'live-level-open' : 'live-level-needle'} d={shape} />
    </svg>
  );
}

/** Around the point where the needle stands, in pixels; at an end of the line it stays before it. */
const ON_SCALE = 'M 0 -13 L 6 0 L 0 13 L -6 0 Z';
const ABOVE = 'M -13 -10 L 0 0 L -13 10 Z';
const BELOW = 'M 13 -10 L 0 0 L 13 10 Z';
/** Two arcs that do not meet. */
const OPEN = 'M -1.5 -3 A 8 8 0 0 1 -12.5 6.3 M -14.5 3 A 8 8 0 0 1 -3.5 -6.3';
