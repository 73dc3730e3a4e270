import { wantedPieces } from '../../core/inspection/outlook.ts';
import { nextPiece, nextPosition, type Run } from '../../core/inspection/run.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { formatCount } from '../words/count.ts';
import { positionText } from '../words/position.ts';
import { pieceOnProbes } from '../words/turn.ts';

/**
 * What is to be put on the probes next, and from where along the reel, to be read from where the reel is.
 * @param reading number of the piece that is being read; null while none is
 */
export function NextPiece({ run, reading }: { run: Run; reading: number | null }) {
  const next = nextPiece(run);
  const again = run.again.includes(next);
  const name = pieceOnProbes(run.plan, next);
  const position = nextPosition(run);
  if (reading !== null) return <p className="measure-next">{`Reading ${pieceOnProbes(run.plan, reading)} …`}</p>;
  if (position === null)
    return <p className="measure-next">{again ? `${capital(name)} once more` : `Next: ${name}`}</p>;
  const isSaid = run.said?.piece === next;
  return (
    <p className="measure-next">
      {again ? 'Once more: ' : 'Next: '}
      <strong className="measure-position">{positionText(position)}</strong>{' '}
      <span className="measure-position-piece">
        {name} of {formatCount(wantedPieces(run))}
        {isSaid && ', as you say'}
      </span>
    </p>
  );
}
