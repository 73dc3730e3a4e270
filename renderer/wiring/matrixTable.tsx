import { useMemo } from 'react';
import type { ContinuityRun } from '../../core/continuity/continuityRun.ts';
import { FOUND_WORDS, VERDICT_WORDS } from '../../core/continuity/continuityWords.ts';
import { type CellVerdict, continuityMatrix, type MatrixCell } from '../../core/continuity/matrix.ts';
import { Block } from '../sheet/sheet.tsx';
import { formatCount } from '../words/count.ts';

/** What is larger nobody reads on a screen. */
const MOST_TERMINALS = 40;

/** One letter for each cell, told apart without colour: what is wrong stands out by its sign. */
const SIGNS: Record<CellVerdict, string> = {
  'as-expected': '',
  'not-as-expected': '!',
  'cannot-tell': '?',
  follows: '',
  'not-known': ' ',
};

const CELL_WORDS: Record<CellVerdict, string> = {
  ...VERDICT_WORDS,
  follows: 'follows from what was measured of their nets',
  'not-known': 'not measured',
};

/** Every two terminals: what was expected, what was found, what that comes to. */
export function MatrixTable({ run }: { run: ContinuityRun }) {
  const matrix = useMemo(() => continuityMatrix(run), [run]);
  const { terminals } = matrix;
  if (terminals.length > MOST_TERMINALS) {
    return (
      <Block title="Matrix">
        <p>
          {formatCount(terminals.length)} terminals are too many to be shown here; the certificate has the matrix of up
          to 200, pair by pair.
        </p>
      </Block>
    );
  }
  return (
    <Block title="Matrix" wide>
      <p className="quiet small">
        C closed, O open, N neither, S as a switch stands, small where it was not measured itself but follows; ! not as
        expected, ? cannot tell; empty: not measured.
      </p>
      <table className="wiring-matrix">
        <thead>
          <tr>
            <td />
            {terminals.map((terminal) => (
              <th key={terminal} scope="col">
                <span>{terminal}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {terminals.map((terminal, row) => (
            <tr key={terminal}>
              <th scope="row">{terminal}</th>
              {terminals.map((other, column) => (
                <Cell key={other} cell={matrix.at(row, column)} of={`${terminal} – ${other}`} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Block>
  );
}

const LETTERS = { closed: 'C', open: 'O', between: 'N', unsure: '' } as const;

function Cell({ cell, of }: { cell: MatrixCell | null; of: string }) {
  if (cell === null) return <td className="wiring-cell wiring-cell-self" />;
  const { expected, found, verdict } = cell;
  const isSwitched = expected === 'depends' && verdict === 'as-expected';
  const letter = isSwitched ? 'S' : found === null ? '' : LETTERS[found];
  const words = `${of}: expected ${expected === 'depends' ? 'as a switch stands' : expected}, ${found === null ? '' : `found ${FOUND_WORDS[found]}, `}${CELL_WORDS[verdict]}`;
  return (
    <td className={`wiring-cell wiring-cell-${verdict}`} title={words}>
      <span aria-hidden="true">
        {verdict === 'follows' ? letter.toLowerCase() : letter}
        {SIGNS[verdict]}
      </span>
      <span className="unseen">{words}</span>
    </td>
  );
}
