import type { Expected } from '../../core/network/expected.ts';
import type { Network } from '../../core/network/network.ts';
import { formatTolerance } from '../../core/window/parseTolerance.ts';
import { Block } from '../sheet/sheet.tsx';
import { ohmsOrOpen, percentFigure, spreadFigure } from './networkFigures.ts';
import { MoreRows, ResistorRows, type Show } from './resistorRows.tsx';

/** How much each resistor moves the whole, the one that moves it most first. */
export function ResistorsBlock(props: { network: Network; expected: Expected; onShow: Show }) {
  const { network, expected, onShow } = props;
  const resistors = new Map(network.resistors.map((resistor) => [resistor.name, resistor]));
  const isOpen = expected.nominal === Number.POSITIVE_INFINITY;
  return (
    <Block
      title="Each resistor"
      wide
      source="The whole changes with one resistor by the square of its share of the current (Cohn, 1950). The one that moves it most stands first."
    >
      <table className="network-table">
        <thead>
          <tr>
            <th scope="col">Resistor</th>
            <th scope="col">Between</th>
            <th scope="col" className="figures">
              Value
            </th>
            <th scope="col" className="figures">
              Tolerance
            </th>
            <th scope="col" className="figures">
              1 % of it moves the whole by
            </th>
            <th scope="col" className="figures">
              Its tolerance moves the whole by
            </th>
          </tr>
        </thead>
        <ResistorRows
          onShow={onShow}
          rows={expected.sensitivities.map(({ name, perPercent, spreadOhms }) => {
            const resistor = resistors.get(name);
            return {
              key: name,
              name,
              cells: (
                <>
                  <th scope="row">{name}</th>
                  <td>
                    {resistor?.from}, {resistor?.to}
                  </td>
                  <td className="figures">{ohmsOrOpen(Number(resistor?.ohms ?? 0))}</td>
                  <td className="figures">{resistor?.tolerance ? formatTolerance(resistor.tolerance) : 'not given'}</td>
                  <td className="figures">{isOpen ? '' : percentFigure(perPercent)}</td>
                  <td className="figures">
                    {isOpen || !resistor?.tolerance ? '' : `±${spreadFigure(spreadOhms, expected.nominal)}`}
                  </td>
                </>
              ),
            };
          })}
        />
      </table>
      <MoreRows count={expected.sensitivities.length} />
    </Block>
  );
}
