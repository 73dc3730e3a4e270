import { shown } from '../../core/study/words.ts';

/** A share in per cent as a figure with a bar under it, whose whole length is 100 %. Over that the bar ends in a point. */
export function ShareBar({ percent }: { percent: number | null }) {
  if (percent === null) return <span className="quiet">none</span>;
  return (
    <span className="share">
      <span className="figures">{shown(percent)}&nbsp;%</span>
      <svg className="share-bar" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true" focusable="false">
        <rect className="share-all" x="0" y="3" width="100" height="2" />
        <rect className="share-part" x="0" y="0" width={Math.min(100, percent)} height="8" />
        {percent > 100 && <path className="share-beyond" d="M 93 0 L 100 4 L 93 8 Z" />}
      </svg>
    </span>
  );
}
