/** How a network is written, line by line. */
const LINES = [
  ['R1 in mid 4k7 1%', 'a resistor: its name, its two nodes, its value, its tolerance, which may be left out'],
  ['tolerance 5%', 'of all resistors below that name none'],
  ['between in out', 'the terminals: the two nodes it is measured between'],
  ['V1 out 0 12V 0.5', 'a source: its positive node, its other node, volts, internal ohms; its name begins with V'],
  ['# a word', 'what stands behind #, * or ; is not read'],
  ['10k + 4k7 1%', 'or one line between the nodes A and B: + is series'],
  ['10k || 3k3', '|| is parallel and binds tighter than +'],
  ['10k + (4k7 + 1k) || 3k3', 'brackets hold together'],
  ['Ra=10k + Rb=4k7', 'with names; without them they are R1, R2, … and nodes inside 1, 2, …'],
  ['4k7, 0R47, 3.3M, 4700', 'values: m is milli, M is mega; a tolerance is in %, or in ohm'],
] as const;

/** The grammar of a description, to be opened. */
export function Grammar() {
  return (
    <details className="network-grammar">
      <summary>How it is written</summary>
      <dl>
        {LINES.map(([line, what]) => (
          <div key={line}>
            <dt className="machine">{line}</dt>
            <dd className="small">{what}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
