import { lazy, Suspense, useCallback, useEffect, useRef, useState } from 'react';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { goInPlace, goTo } from '../route.ts';
import { Sheet } from '../sheet/sheet.tsx';
import { counted, formatCount } from '../words/count.ts';
import { ExportHistory } from './exportHistory.tsx';
import { FilterForm } from './filterForm.tsx';
import { HistoryTable } from './historyTable.tsx';
import { wordsOf } from './query.ts';
import { useHistory } from './useHistory.ts';
import './historyScreen.css';

/** What belongs to one part or one supplier is fetched when it is looked at. */
const Trends = lazy(() => import('./trends.tsx'));

/** All runs there were: found by what stands in the address, as rows, or as the way they went. */
export function HistoryScreen({ query, trends }: { query: string; trends: boolean }) {
  const place = useRef<HTMLDivElement>(null);
  const [isExporting, setIsExporting] = useState(false);
  const { words, leftOut } = wordsOf(query);
  const ofOne = words.part !== undefined || words.supplier !== undefined;
  const go = useCallback(
    (to: string, inPlace: boolean) => (inPlace ? goInPlace : goTo)({ screen: 'history', query: to, trends }),
    [trends],
  );
  return (
    <Sheet
      title={trends ? 'How the lots went' : 'History'}
      aside={
        <div className="actions">
          <Action keyName="f" onPress={() => place.current?.querySelector('input')?.focus()}>
            Find
          </Action>
          <Action
            keyName="t"
            disabled={!trends && !ofOne}
            onPress={() => goTo({ screen: 'history', query, trends: !trends })}
          >
            {trends ? 'Lots' : 'Trends'}
          </Action>
          <Action keyName="r" onPress={() => goTo({ screen: 'record' })}>
            The record
          </Action>
          <Action {...(!isExporting && { keyName: 'Escape' })} onPress={() => goTo({ screen: 'runs' })}>
            Back
          </Action>
        </div>
      }
    >
      <div ref={place}>
        <FilterForm query={query} go={go} />
      </div>
      {leftOut.length > 0 && (
        <ul className="history-left-out" role="status">
          {leftOut.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
      )}
      {trends ? (
        <Suspense fallback={<div aria-busy="true" />}>
          <Trends words={words} />
        </Suspense>
      ) : (
        <Found query={query} onExporting={setIsExporting} ofOne={ofOne} />
      )}
    </Sheet>
  );
}

function Found(props: { query: string; ofOne: boolean; onExporting: (is: boolean) => void }) {
  const { query, ofOne } = props;
  const { found, problem, asking, more } = useHistory(query);
  const shown = found?.rows.length ?? 0;
  const asksNow = asking && found?.query !== query;
  return (
    <>
      <div className="history-head">
        <div>
          <p role="status">
            {found && found.total > 0 && (
              <>
                {counted(found.total, 'run', 'runs')} found
                {shown < found.total && `, ${formatCount(shown)} of them below`}
              </>
            )}
            {found === null && problem === null && 'Looking for runs …'}
          </p>
          {shown > 0 && (
            <p className="quiet small">
              {ofOne
                ? 'Trends shows how the lots that are found went.'
                : 'With a part or a supplier, Trends shows how its lots went.'}
            </p>
          )}
        </div>
        {found && found.total > 0 && <ExportHistory query={query} count={found.total} onBusy={props.onExporting} />}
      </div>
      <ProblemNotice problem={problem} />
      {found?.total === 0 && <NothingFound query={found.query} />}
      {found && shown > 0 && (
        <div className="history-rows">
          <HistoryTable rows={found.rows} busy={asksNow} />
          {found.next !== null && <More shown={shown} more={more} />}
        </div>
      )}
    </>
  );
}

function NothingFound({ query }: { query: string }) {
  if (query === '') {
    return (
      <p className="history-none">Nothing was received yet. Each lot that is received stands here from then on.</p>
    );
  }
  return (
    <div className="history-none">
      <p>
        No run is like that. Part, supplier, lot and inspector are looked for as they were written, whole;{' '}
        <em>Any text</em> finds any piece of part, description, lot, reel, supplier or inspector, in capitals or not.
      </p>
      <div className="actions">
        <Action keyName="a" onPress={() => goTo({ screen: 'history', query: '', trends: false })}>
          Show all
        </Action>
      </div>
    </div>
  );
}

/** Further rows, asked for as the end of those there are comes into sight. */
function More({ shown, more }: { shown: number; more: () => void }) {
  const end = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at anew when rows were added, as the end may be in sight still
  useEffect(() => {
    const element = end.current;
    if (!element) return;
    const observer = new IntersectionObserver(([entry]) => entry?.isIntersecting && more(), { rootMargin: '400px' });
    observer.observe(element);
    return () => observer.disconnect();
  }, [more, shown]);
  return (
    <div ref={end} className="actions">
      <Action keyName="m" onPress={more}>
        Further runs
      </Action>
    </div>
  );
}
