import { type ReactNode, useLayoutEffect, useRef } from 'react';
import './sheet.css';

/** A page beside the job: a heading, what stands beside it, and one thing below the other. Made to be printed too. */
export function Sheet(props: { title: string; aside?: ReactNode; children: ReactNode }) {
  const { title } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  // The page begins at its heading, unless one of its fields has taken the focus already.
  useLayoutEffect(() => {
    document.title = `${title} · Reelohm`;
    const focused = document.activeElement;
    if (!focused || focused === document.body) heading.current?.focus();
    window.scrollTo(0, 0);
  }, [title]);
  return (
    <main className="sheet">
      <div className="sheet-head">
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {props.aside}
      </div>
      {props.children}
    </main>
  );
}

/** A part of a sheet or of a step with its heading; `source` says where its formulas come from, `wide` that it may be wider than the page. */
export function Block(props: { title: string; source?: ReactNode; children: ReactNode; wide?: boolean }) {
  return (
    // What is wider than the page is scrolled by keys.
    <section className="block" aria-label={props.title} tabIndex={props.wide ? 0 : undefined}>
      <h2>{props.title}</h2>
      {props.children}
      {props.source && <p className="block-source quiet small">{props.source}</p>}
    </section>
  );
}
