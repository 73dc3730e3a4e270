import type { Terminals } from '../../core/network/network.ts';
import type { SourcesLeft } from '../../core/network/sourcesLeft.ts';
import { Block } from '../sheet/sheet.tsx';
import { figureText } from '../words/figures.ts';
import { ohmsOrOpen } from './networkFigures.ts';

/** Below this many volts what was worked out is rounding and nothing else. */
const NO_VOLTS = 1e-9;

/** What sources do that are left connected, and what to do first. */
export function SourcesBlock({ sources, terminals }: { sources: SourcesLeft; terminals: Terminals }) {
  const { names, ohms, volts } = sources;
  const [from, to] = terminals;
  const isNone = Math.abs(volts) < NO_VOLTS;
  const named = names.length > 6 ? `${names.slice(0, 6).join(', ')} and ${names.length - 6} more` : names.join(', ');
  return (
    <Block
      title="Sources left connected"
      source="Each source is its voltage behind its internal resistance (Thévenin, Norton); what they do adds up."
    >
      <p>
        <strong>
          Disconnect {named} and discharge what is stored first. A meter on resistance shows nonsense where a voltage
          stands, and may be damaged.
        </strong>
      </p>
      <dl className="network-facts">
        <dt>While they are on</dt>
        <dd>
          {isNone
            ? `no voltage between ${from} and ${to}; elsewhere in the network there may be one`
            : `${figureText(Math.abs(volts), 4)}\u00a0V between ${from} and ${to}, ${volts > 0 ? from : to} being the positive one`}
        </dd>
        <dt>While they give nothing</dt>
        <dd>{ohmsOrOpen(ohms)}, by their internal resistances alone</dd>
      </dl>
    </Block>
  );
}
