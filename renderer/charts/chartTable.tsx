import { type ReactNode, useState } from 'react';

/** The table of a chart; made only when it is opened, since it may be long. */
export function ChartTable(props: { title: string; children: () => ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <details className="chart-table" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{props.title}</summary>
      {open && props.children()}
    </details>
  );
}
