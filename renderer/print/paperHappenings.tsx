import type { PaperRow } from '../../core/certificate/certificatePaper.ts';
import type { Row } from '../../core/certificate/format.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { CHECKS, type FoundWhat, type Outcome } from '../../core/readiness/check.ts';
import { CHECK_TITLES, OUTCOME_WORDS } from '../outcome/outcomeWords.ts';
import { FOUND_WORDS } from '../words/found.ts';
import { figureText, timeText } from './paperWords.ts';

/** Rows that say more of the one before them. */
const MORE: ReadonlySet<Row['row']> = new Set(['found', 'reference']);

/** All that happened at the bench beside readings, in its order; what was found in a check stands behind it, line by line. */
export function PaperHappenings({ rows }: { rows: readonly PaperRow[] }) {
  return (
    <table className="paper-table paper-happenings">
      <thead>
        <tr>
          <th scope="col">After reading</th>
          <th scope="col">What</th>
          <th scope="col">How it came out</th>
          <th scope="col">Who and when</th>
        </tr>
      </thead>
      <tbody>
        {grouped(rows).map((group, index) => {
          const [{ row, afterReading }] = group;
          const isMore = MORE.has(row.row) || isDetail(row);
          const says = row.row === 'found' ? group.map((one) => foundText(one.row)).join('; ') : outcomeText(row);
          if (isMore && says === '') return null;
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: rows of a file do not move
            <tr key={index} className={isMore ? 'paper-more' : undefined}>
              <td className="figures">{isMore ? '' : afterReading}</td>
              <th scope="row">{titleOf(row)}</th>
              <td>{says}</td>
              <td>{[row.by, row.at && timeText(row.at)].filter(Boolean).join(', ')}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

type Group = [PaperRow, ...PaperRow[]];

/** Rows of the same thing found, one behind the other, are one line. */
function grouped(rows: readonly PaperRow[]): Group[] {
  const groups: Group[] = [];
  for (const one of rows) {
    const last = groups.at(-1);
    if (last && one.row.row === 'found' && last[0].row.row === 'found' && last[0].row.item === one.row.item) {
      last.push(one);
    } else {
      groups.push([one]);
    }
  }
  return groups;
}

/** A row without a time of its own says more of the one that has it. */
function isDetail(row: Row): boolean {
  return row.at === undefined;
}

function titleOf(row: Row): string {
  switch (row.row) {
    case 'check': {
      const name = CHECKS.find((check) => check === row.item);
      return name === undefined ? row.item : CHECK_TITLES[name];
    }
    case 'found':
      return FOUND_WORDS[row.item as FoundWhat] ?? row.item;
    case 'void':
      return `Reading ${row.item} made void`;
    case 'meter':
      return row.item === 'identity' ? 'Meter connected' : capital(row.item);
    case 'bench':
      return capital(row.item);
    default:
      return `${capital(row.row)}: ${row.item}`;
  }
}

function outcomeText(row: Row): string {
  const outcome = row.verdict && (OUTCOME_WORDS[row.verdict as Outcome] ?? row.verdict);
  return [outcome, figureText(row), row.text].filter(Boolean).join(', ');
}

/** What was read, said or typed, and the figure taken from it where it is another text. */
function foundText(row: Row): string {
  const figure = figureText(row);
  const said = row.meter_text ?? '';
  return figure === '' ? said : `${figure} (${said})`;
}
