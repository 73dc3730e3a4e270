import type { PaperRow } from '../../core/certificate/certificatePaper.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { figureText, timeText } from './paperWords.ts';

/**
 * Rows of the certificate as what, its figures, and the words and names that belong to them. Rows that say nothing are left out.
 * @param short they stand in two columns, because none has much to say
 */
export function FactTable({ rows, short = false }: { rows: readonly PaperRow[]; short?: boolean }) {
  // Of rows of several kinds each says which it is of: there is a number of the lot, and one of the part.
  const isOfMany = new Set(rows.map(({ row }) => row.row)).size > 1;
  return (
    <div className={short ? 'paper-two-columns' : undefined}>
      <table className="paper-facts">
        <tbody>
          {rows.map(({ row }, index) => {
            const figure = figureText(row);
            const words = [row.text, row.by && `by ${row.by}`, row.at && timeText(row.at)].filter(Boolean).join(', ');
            if (figure === '' && words === '') return null;
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows of a file do not move
              <tr key={index}>
                <th scope="row">{capital(isOfMany ? `${row.row}: ${row.item}` : row.item)}</th>
                {short || figure === '' ? (
                  <td colSpan={short ? undefined : 2}>{[figure, words].filter((part) => part !== '').join(', ')}</td>
                ) : (
                  <>
                    <td className="figures">{figure}</td>
                    <td>{words}</td>
                  </>
                )}
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
