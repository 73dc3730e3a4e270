import { Fragment, type ReactNode, useState } from 'react';
import { Action } from '../controls/action.tsx';
import { formatCount } from '../words/count.ts';

/** Rows on a page. More would be slow to make and slow to move through. */
const ROWS = 50;

/**
 * A table of any length, a page at a time: a table of a million rows no screen can make.
 * @param row of the row at an index from 0, to before `count`
 */
export function PagedTable(props: {
  caption?: ReactNode;
  columns: readonly string[];
  count: number;
  row: (index: number) => ReactNode;
}) {
  const { columns, count, row } = props;
  const [asked, setAsked] = useState(0);
  const pages = Math.max(1, Math.ceil(count / ROWS));
  const page = Math.min(asked, pages - 1);
  const first = page * ROWS;
  const shown = Math.min(ROWS, count - first);
  const rows = Array.from({ length: shown }, (_, place) => first + place);
  return (
    <>
      {pages > 1 && <Pages page={page} pages={pages} first={first} shown={shown} count={count} onPage={setAsked} />}
      <table>
        {props.caption && <caption className="quiet small">{props.caption}</caption>}
        <thead>
          <tr>
            {columns.map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((index) => (
            <Fragment key={index}>{row(index)}</Fragment>
          ))}
        </tbody>
      </table>
    </>
  );
}

function Pages(props: {
  page: number;
  pages: number;
  first: number;
  shown: number;
  count: number;
  onPage: (page: number) => void;
}) {
  const { page, pages, first, shown, count, onPage } = props;
  const goTo = (wanted: number) => onPage(Math.min(pages - 1, Math.max(0, wanted)));
  return (
    <div className="chart-pages">
      <Action disabled={page === 0} onPress={() => goTo(0)}>
        First
      </Action>
      <Action disabled={page === 0} onPress={() => goTo(page - 1)}>
        Back
      </Action>
      <label className="chart-page">
        Page
        <input
          type="number"
          min={1}
          max={pages}
          value={page + 1}
          onChange={(event) => goTo((Number.parseInt(event.target.value, 10) || 1) - 1)}
        />
        of {formatCount(pages)}
      </label>
      <Action disabled={page === pages - 1} onPress={() => goTo(page + 1)}>
        On
      </Action>
      <Action disabled={page === pages - 1} onPress={() => goTo(pages - 1)}>
        Last
      </Action>
      <span className="quiet small">
        rows {formatCount(first + 1)} to {formatCount(first + shown)} of {formatCount(count)}
      </span>
    </div>
  );
}
