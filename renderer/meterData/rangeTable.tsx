import { Fragment, useLayoutEffect, useRef } from 'react';
import { Action } from '../controls/action.tsx';
import { EMPTY_RANGE, type MeterDataRead, type RangeDraft } from './meterDataDraft.ts';

type Column = [field: Exclude<keyof RangeDraft, 'method'>, head: string, spoken: string];

/** Columns in the order most manuals print them. */
const COLUMNS: readonly Column[] = [
  ['fullScale', 'Range', 'range'],
  ['percentOfReading', '% of reading', 'per cent of reading'],
  ['percentOfRange', '+ % of range', 'per cent of range'],
  ['counts', 'or + counts', 'counts'],
  ['countOhms', 'one count, Ω', 'ohms of one count'],
  ['kelvinReading', '% of reading', 'per cent of reading for each kelvin'],
  ['kelvinRange', '+ % of range', 'per cent of range for each kelvin'],
  ['current', 'Test current', 'test current'],
];

const METHODS = { both: 'Both', '2-wire': '2-wire', '4-wire': '4-wire' } as const;

/** The manual's table of limits of error, a row for each range. Everything in it is reached by the Tab key. */
export function RangeTable(props: {
  ranges: readonly RangeDraft[];
  problems: MeterDataRead['problems'];
  onChange: (ranges: readonly RangeDraft[]) => void;
}) {
  const { ranges, problems, onChange } = props;
  const table = useRef<HTMLTableElement>(null);
  /** The row that is to have the focus once it is there. */
  const goTo = useRef<number | null>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever rows were added or removed
  useLayoutEffect(() => {
    if (goTo.current === null) return;
    const row = table.current?.querySelectorAll('.range-row')[goTo.current];
    row?.querySelector<HTMLElement>('input')?.focus();
    goTo.current = null;
  }, [ranges.length]);

  const set = (index: number, change: Partial<RangeDraft>) =>
    onChange(ranges.map((range, at) => (at === index ? { ...range, ...change } : range)));

  function add() {
    goTo.current = ranges.length;
    onChange([...ranges, { ...EMPTY_RANGE, method: ranges.at(-1)?.method ?? 'both' }]);
  }

  function remove(index: number) {
    goTo.current = Math.max(0, Math.min(index, ranges.length - 2));
    onChange(ranges.length === 1 ? [EMPTY_RANGE] : ranges.filter((_, at) => at !== index));
  }

  return (
    <div className="range-table">
      <table ref={table}>
        <thead>
          <tr>
            <td colSpan={2} />
            <th scope="colgroup" colSpan={4}>
              Limits of error, ±
            </th>
            <th scope="colgroup" colSpan={2}>
              Per kelvin outside, +
            </th>
            <td colSpan={2} />
          </tr>
          <tr>
            <th scope="col">Method</th>
            {COLUMNS.map(([field, head]) => (
              <th key={field} scope="col">
                {head}
              </th>
            ))}
            <td />
          </tr>
        </thead>
        <tbody>
          {ranges.map((range, index) => {
            const faults = COLUMNS.flatMap(([field, , spoken]) => {
              const fault = problems[`${index}.${field}`];
              return fault ? [{ field, text: `${capital(spoken)}: ${fault}` }] : [];
            });
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place in the table
              <Fragment key={index}>
                <tr className="range-row">
                  <td>
                    <select
                      aria-label={`Row ${index + 1}, method`}
                      value={range.method}
                      onChange={(event) => set(index, { method: event.target.value as RangeDraft['method'] })}
                    >
                      {Object.entries(METHODS).map(([value, words]) => (
                        <option key={value} value={value}>
                          {words}
                        </option>
                      ))}
                    </select>
                  </td>
                  {COLUMNS.map(([field, , spoken]) => (
                    <td key={field}>
                      <input
                        type="text"
                        aria-label={`Row ${index + 1}, ${spoken}`}
                        value={range[field]}
                        placeholder={index === 0 ? EXAMPLES[field] : undefined}
                        onChange={(event) => set(index, { [field]: event.target.value })}
                        autoComplete="off"
                        spellCheck={false}
                        aria-invalid={problems[`${index}.${field}`] ? true : undefined}
                        aria-describedby={problems[`${index}.${field}`] ? `range-faults-${index}` : undefined}
                      />
                    </td>
                  ))}
                  <td>
                    <Action onPress={() => remove(index)} label={`Remove row ${index + 1}`}>
                      Remove
                    </Action>
                  </td>
                </tr>
                {faults.length > 0 && (
                  <tr>
                    <td colSpan={COLUMNS.length + 2} className="field-problem" id={`range-faults-${index}`}>
                      {faults.map(({ field, text }) => (
                        <p key={field}>{text}</p>
                      ))}
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      </table>
      {problems.ranges && <p className="field-problem">{problems.ranges}</p>}
      <Action onPress={add}>Add a range</Action>
    </div>
  );
}

/** Shown in the empty first row, to tell how a value is written. */
const EXAMPLES: Partial<Record<keyof RangeDraft, string>> = { fullScale: '10k', current: '100u' };

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}
