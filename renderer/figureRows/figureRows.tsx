import type { ReactNode } from 'react';
import type { Refused } from '../../core/statistics/values.ts';
import './figureRows.css';

/** One figure with its name, what is to be said of it, and where its formula comes from. */
export interface FigureRow {
  name: string;
  /** Left out where it cannot be given; the words say why. */
  value?: string;
  words?: ReactNode;
  source?: string;
}

/** Figures one under the other, each with the source of its formula beside it in small type. */
export function FigureRows({ rows }: { rows: readonly FigureRow[] }) {
  return (
    <dl className="figure-rows">
      {rows.map(({ name, value, words, source }) => (
        <div key={name} className="figure-row">
          <dt>{name}</dt>
          <dd>
            {value !== undefined && <span className="figure-value">{value}</span>}
            {words && <span className={value === undefined ? undefined : 'figure-words'}>{words}</span>}
          </dd>
          {source && (
            <dd className="figure-source">
              <span className="unseen">Source: </span>
              {source}
            </dd>
          )}
        </div>
      ))}
    </dl>
  );
}

/** A row that says why its figure cannot be given. */
export function notGiven(name: string, { refused }: Refused, source?: string): FigureRow {
  return { name, words: refused, ...(source !== undefined && { source }) };
}
