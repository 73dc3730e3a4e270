import Big from 'big.js';
import type { Expected } from '../../core/network/expected.ts';
import type { MeasuredOhms } from '../../core/network/explanations.ts';
import type { Terminals } from '../../core/network/network.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { Block } from '../sheet/sheet.tsx';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import {
  isUnsure,
  ohmsOrOpen,
  percentFigure,
  spanText,
  standingOf,
  uncertaintyFigure,
  worstCaseWindow,
} from './networkFigures.ts';

/** What is to be read between the terminals, and how what was measured stands to it. */
export function ExpectedBlock(props: {
  expected: Expected;
  terminals: Terminals;
  measured: MeasuredOhms | null;
  title?: string;
}) {
  const { expected, terminals, measured } = props;
  const { nominal, lowest, highest, likelyLowest, likelyHighest } = expected;
  const window = worstCaseWindow(expected);
  const isOpen = nominal === Number.POSITIVE_INFINITY;
  return (
    <Block
      title={props.title ?? 'Expected'}
      source="Worst case: every resistor at the end of its tolerance that makes the whole lowest, or highest; resistance rises with that of each resistor (Rayleigh). Root-sum-square: tolerances that are independent (JCGM 100:2008, 5.1.2)."
    >
      <dl className="network-facts">
        <dt>
          Between {terminals[0]} and {terminals[1]}
        </dt>
        <dd className="network-nominal">{ohmsOrOpen(nominal)}</dd>
        {window && (
          <>
            <dt>Window, worst case</dt>
            <dd>
              {spanText(lowest, highest, nominal)}{' '}
              <span className="quiet">({awayText(expected, lowest, highest)})</span>
            </dd>
            <dt>Window, root-sum-square</dt>
            <dd>
              {spanText(likelyLowest, likelyHighest, nominal)}{' '}
              <span className="quiet">({awayText(expected, likelyLowest, likelyHighest)})</span>
            </dd>
          </>
        )}
        {measured && (
          <>
            <dt>Measured</dt>
            <dd>
              {ohmsOrOpen(measured.ohms)}
              {measured.expandedOhms > 0 && measured.ohms !== Number.POSITIVE_INFINITY && (
                <> ± {uncertaintyFigure(measured.expandedOhms)}</>
              )}
              {window && <Stands expected={expected} measured={measured} />}
            </dd>
          </>
        )}
      </dl>
      {isOpen && <p>Nothing joins these two nodes: a meter shows its overload.</p>}
      {!isOpen && !window && <p>No resistor has a tolerance, so there is no window: values are taken as they are.</p>}
      {window && expected.isWithoutTolerance && (
        <p>Resistors without a tolerance are taken as they are; they make the window no wider.</p>
      )}
      {window && (
        // All that it shows stands above in words.
        <div aria-hidden="true">
          <WindowBar window={window} size="large" piece={measured ? markOf(expected, measured) : undefined} />
        </div>
      )}
    </Block>
  );
}

/** How far the ends of a window are from the nominal value, in per cent. */
function awayText({ nominal }: Expected, low: number, high: number): string {
  if (nominal === 0) return 'around 0 Ω';
  const [down = '', up = ''] = [low, high].map((end) => percentFigure((end / nominal - 1) * 100, true));
  return down.slice(1) === up.slice(1) ? `±${up.slice(1)}` : `${down}, ${up}`;
}

function Stands({ expected, measured }: { expected: Expected; measured: MeasuredOhms }) {
  const standing = standingOf(expected, measured);
  const { likelyLowest, likelyHighest } = expected;
  const isLikely = standingOf({ lowest: likelyLowest, highest: likelyHighest }, measured) === 'pass';
  return (
    <span className="network-stands">
      <span className={`verdict-words-${standing}`}>
        <VerdictMark verdict={standing} /> {VERDICT_WORDS[standing]}
      </span>
      {standing === 'pass' && !isLikely && <span className="quiet">beyond the root-sum-square</span>}
      {isUnsure(expected, measured) && <span className="quiet">not sure: U reaches over a limit</span>}
    </span>
  );
}

/** What was measured as the mark of a window bar. */
function markOf(expected: Expected, measured: MeasuredOhms) {
  const isOpen = measured.ohms === Number.POSITIVE_INFINITY;
  const ohms = isOpen ? null : plain(new Big(measured.ohms));
  return {
    ohms,
    raw: ohms ?? 'open',
    uncertainty:
      measured.expandedOhms > 0 ? { expandedOhms: plain(new Big(measured.expandedOhms)), coverageFactor: '2' } : null,
    verdict: standingOf(expected, measured),
    suspect: null,
    piece: 1,
    reading: 1,
  };
}
