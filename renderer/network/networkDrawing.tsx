import { type CSSProperties, useMemo } from 'react';
import {
  BODY,
  BODY_WORDS,
  type DrawnElement,
  type DrawnTerminal,
  drawingOf,
  LETTER,
  MOST_DRAWN,
  NODE_WORDS,
  type Point,
} from '../../core/network/drawing.ts';
import type { Network } from '../../core/network/network.ts';
import type { NetworkAnalysis } from '../../core/network/networkAnalysis.ts';
import { VerdictShape } from '../verdict/verdictMark.tsx';
import { formatCount } from '../words/count.ts';
import { ohmsOrOpen } from './networkFigures.ts';

const HOP = 7;

/**
 * The network between its terminals.
 * @param suspects resistors to look at first, each with what may be wrong with it
 * @param shown the resistor that is looked at elsewhere on the page
 */
export function NetworkDrawing(props: {
  network: Network;
  analysis: NetworkAnalysis;
  suspects: ReadonlyMap<string, string>;
  shown: string | null;
}) {
  const { network, analysis, suspects, shown } = props;
  const drawing = useMemo(() => drawingOf(network, analysis.corners.nominal), [network, analysis]);
  if (drawing === null) {
    return (
      <p>
        A network of more than {MOST_DRAWN} resistors and sources is not drawn; this one has{' '}
        {formatCount(network.resistors.length + network.sources.length)}. The tables below have them all.
      </p>
    );
  }
  const { width, height, nodes, elements, terminals } = drawing;
  const values = new Map(network.resistors.map(({ name, ohms }) => [name, ohmsOrOpen(Number(ohms))]));
  for (const { name, volts } of network.sources) values.set(name, `${volts}\u00a0V`);
  const isTerminal = new Set(terminals.map(({ name }) => name));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is wider than the page is scrolled by keys
    <section className="network-drawing" aria-label="Drawing" tabIndex={0}>
      <svg
        viewBox={`0 0 ${width} ${height}`}
        style={{ '--network-width': `${width / 16}rem` } as CSSProperties}
        role="img"
        aria-label={spoken(network, analysis)}
      >
        {nodes.map(({ name, x, top, bottom, joints, label }) => (
          <g key={name}>
            <line className="network-wire" x1={x} x2={x} y1={top} y2={bottom} />
            {joints.map((y) => (
              <circle key={y} className="network-joint" cx={x} cy={y} r="4" />
            ))}
            {!isTerminal.has(name) && <Words at={label} text={name} room={NODE_WORDS} className="network-node" />}
          </g>
        ))}
        {terminals.map((terminal, index) => (
          <Terminal key={terminal.name} terminal={terminal} isLast={index === 1} />
        ))}
        {elements.map((element) => (
          <Element
            key={element.name}
            element={element}
            value={values.get(element.name) ?? ''}
            suspect={suspects.get(element.name)}
            isShown={shown === element.name}
          />
        ))}
      </svg>
    </section>
  );
}

function Terminal({ terminal, isLast }: { terminal: DrawnTerminal; isLast: boolean }) {
  const { at, mark, name } = terminal;
  const way = isLast ? 1 : -1;
  return (
    <g>
      <line className="network-wire" x1={at.x} y1={at.y} x2={mark.x} y2={mark.y} />
      <circle className="network-terminal" cx={mark.x} cy={mark.y} r="5" />
      <Words
        at={{ x: mark.x + way * 12, y: mark.y + 5 }}
        text={name}
        room={NODE_WORDS - 14}
        className={isLast ? 'network-terminal-name' : 'network-terminal-name network-words-end'}
      />
    </g>
  );
}

/** The line with its body; what is looked at has a frame, what is suspect a mark and a word. */
function Element(props: { element: DrawnElement; value: string; suspect: string | undefined; isShown: boolean }) {
  const { element, value, suspect, isShown } = props;
  const { name, kind, body, line } = element;
  const [left, right] = line;
  const half = BODY.width / 2;
  const words = suspect === undefined ? value : suspect;
  return (
    <g className={suspect === undefined ? 'network-element' : 'network-element network-suspect'}>
      {isShown && (
        <rect
          className="network-shown"
          x={body.x - half - 7}
          y={body.y - 15}
          width={BODY.width + 14}
          height="30"
          rx="4"
        />
      )}
      <path className="network-wire" d={pathOf(element, left.x, kind === 'source' ? body.x - 13 : body.x - half)} />
      <path className="network-wire" d={pathOf(element, kind === 'source' ? body.x + 13 : body.x + half, right.x)} />
      {kind === 'resistor' ? (
        <rect className="network-body" x={body.x - half} y={body.y - BODY.height / 2} {...BODY} />
      ) : (
        <Source at={body} isFromLeft={element.fromLeft} />
      )}
      {suspect !== undefined && (
        <g transform={`translate(${body.x} ${body.y}) scale(0.24)`}>
          <VerdictShape verdict="suspect" />
        </g>
      )}
      <Words at={{ x: body.x, y: body.y - 17 }} text={name} room={BODY_WORDS} className="network-name" />
      <Words at={{ x: body.x, y: body.y + 27 }} text={words} room={BODY_WORDS} className="network-value" />
    </g>
  );
}

/** A circle with a plus at its positive end. */
function Source({ at: { x, y }, isFromLeft }: { at: Point; isFromLeft: boolean }) {
  const plus = isFromLeft ? x - 6 : x + 6;
  const minus = isFromLeft ? x + 6 : x - 6;
  return (
    <>
      <circle className="network-body" cx={x} cy={y} r="13" />
      <path className="network-sign" d={`M ${plus - 3} ${y} h 6 M ${plus} ${y - 3} v 6 M ${minus - 3} ${y} h 6`} />
    </>
  );
}

/** A stretch of a line; over nodes that it does not belong to it goes in a bow. */
function pathOf({ line, crossings }: DrawnElement, from: number, to: number): string {
  const { y } = line[0];
  const bows = crossings
    .filter((x) => x > from && x < to)
    .sort((a, b) => a - b)
    .map((x) => `H ${x - HOP} A ${HOP} ${HOP} 0 0 1 ${x + HOP} ${y}`);
  return [`M ${from} ${y}`, ...bows, `H ${to}`].join(' ');
}

/** Words in a drawing, shortened where they would reach out of their room. */
function Words({ at, text, room, className }: { at: Point; text: string; room: number; className: string }) {
  const letters = Math.floor(room / LETTER);
  const shown = text.length > letters ? `${text.slice(0, letters - 1)}…` : text;
  return (
    <text className={`network-words ${className}`} x={at.x} y={at.y}>
      {shown}
      {shown !== text && <title>{text}</title>}
    </text>
  );
}

function spoken({ resistors, sources }: Network, { terminals }: NetworkAnalysis): string {
  const [from, to] = terminals;
  const count = resistors.length === 1 ? '1 resistor' : `${formatCount(resistors.length)} resistors`;
  const besides = sources.length === 0 ? '' : ` and ${sources.length === 1 ? '1 source' : `${sources.length} sources`}`;
  return `Network of ${count}${besides} between ${from} and ${to}. The tables below say what is joined with what.`;
}
