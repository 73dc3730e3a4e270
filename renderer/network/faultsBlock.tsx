import { useMemo } from 'react';
import type { Fault } from '../../core/network/faults.ts';
import { Block } from '../sheet/sheet.tsx';
import { alikeWords, changeText, SHOWS_WORDS } from './faultWords.ts';
import { ohmsOrOpen, spanText } from './networkFigures.ts';
import { MoreRows, ResistorRows, type Show } from './resistorRows.tsx';

/** Every resistor open and short, in turn; but for a short where 0 Ω join both ends already, of which there is no figure. */
export function FaultsBlock({ faults, nominal, onShow }: { faults: readonly Fault[]; nominal: number; onShow: Show }) {
  const alike = useMemo(() => alikeWords(faults), [faults]);
  return (
    <Block
      title="Opens and shorts"
      wide
      source="One fault at a time, all other resistors good. It shows always where its window is apart from that of the good network, not always where the two overlap, never where nothing changes between these terminals."
    >
      <table className="network-table">
        <thead>
          <tr>
            <th scope="col">Fault</th>
            <th scope="col" className="figures">
              Would read
            </th>
            <th scope="col" className="figures">
              Change
            </th>
            <th scope="col" className="figures">
              Window, worst case
            </th>
            <th scope="col">Shows</th>
            <th scope="col">Read alike</th>
          </tr>
        </thead>
        <ResistorRows
          onShow={onShow}
          rows={faults.map((fault) => ({
            key: `${fault.name} ${fault.kind}`,
            name: fault.name,
            cells: (
              <>
                <th scope="row">
                  {fault.name} {fault.kind}
                </th>
                <td className="figures">{ohmsOrOpen(fault.ohms)}</td>
                <td className="figures">{changeText(fault, nominal)}</td>
                <td className="figures">{spanText(fault.lowest, fault.highest)}</td>
                <td>{SHOWS_WORDS[fault.shows]}</td>
                <td className="network-alike">{alike(fault)}</td>
              </>
            ),
          }))}
        />
      </table>
      <MoreRows count={faults.length} />
    </Block>
  );
}
