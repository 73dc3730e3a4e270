import type { InCircuit } from '../../core/network/inCircuit.ts';
import { Block } from '../sheet/sheet.tsx';
import { ohmsOrOpen, percentFigure, spanText } from './networkFigures.ts';
import { MoreRows, ResistorRows, type Show } from './resistorRows.tsx';

/** Each resistor as it is read while it stays in its circuit. */
export function InCircuitBlock({ inCircuit, onShow }: { inCircuit: readonly InCircuit[]; onShow: Show }) {
  const isSourced = inCircuit.some(({ withSources }) => withSources !== null);
  return (
    <Block
      title="Measured in circuit"
      wide
      source="Across one resistor after the other, all being good, nothing else connected. What lies beside a resistor makes it read less, never more; with one end lifted it is read by itself."
    >
      <table className="network-table">
        <thead>
          <tr>
            <th scope="col">Resistor</th>
            <th scope="col">Across</th>
            <th scope="col" className="figures">
              Own value
            </th>
            <th scope="col" className="figures">
              Reads in circuit
            </th>
            <th scope="col" className="figures">
              Window, worst case
            </th>
            <th scope="col" className="figures">
              Off by
            </th>
            <th scope="col" className="figures">
              Beside it
            </th>
            <th scope="col">By itself</th>
            {isSourced && (
              <th scope="col" className="figures">
                Sources left in
              </th>
            )}
          </tr>
        </thead>
        <ResistorRows
          onShow={onShow}
          rows={inCircuit.map((each) => ({
            key: each.name,
            name: each.name,
            cells: (
              <>
                <th scope="row">{each.name}</th>
                <td>
                  {each.from}, {each.to}
                </td>
                <td className="figures">{ohmsOrOpen(each.own)}</td>
                <td className="figures">{ohmsOrOpen(each.ohms)}</td>
                <td className="figures">{spanText(each.lowest, each.highest)}</td>
                <td className="figures">{percentFigure(each.changePercent)}</td>
                <td className="figures">
                  {each.beside === Number.POSITIVE_INFINITY ? 'nothing' : ohmsOrOpen(each.beside)}
                </td>
                <td>{each.lift === null ? 'as it is' : `lift its end at ${each.lift}`}</td>
                {isSourced && (
                  <td className="figures">{each.withSources === null ? '' : ohmsOrOpen(each.withSources)}</td>
                )}
              </>
            ),
          }))}
        />
      </table>
      <MoreRows count={inCircuit.length} />
    </Block>
  );
}
