import type { ReactNode } from 'react';
import { ChartPicture } from './chartPicture.tsx';
import './charts.css';

/** A chart with its title above it; below it its table, and ways to take it along as a picture. */
export function ChartFrame(props: {
  title: string;
  children: ReactNode;
  table?: ReactNode;
  /** Said below the drawing: what of it is not drawn. */
  note?: string | null;
  className?: string;
}) {
  const { title, note, className } = props;
  return (
    <figure className={className ? `chart ${className}` : 'chart'}>
      <figcaption>{title}</figcaption>
      {props.children}
      {note && <p className="quiet small">{note}</p>}
      <div className="chart-foot">
        {props.table}
        <ChartPicture title={title} />
      </div>
    </figure>
  );
}
