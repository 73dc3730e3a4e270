import type { Explanation } from '../../core/network/explanations.ts';
import type { Network } from '../../core/network/network.ts';
import { explanationsSentence, explanationWords } from '../../core/network/networkWords.ts';
import { Block } from '../sheet/sheet.tsx';
import { ohmsOrOpen, spanText } from './networkFigures.ts';
import { MoreRows, ResistorRows, type Show } from './resistorRows.tsx';

/** What explains the reading, best first. It is a hint where to look; the verdict stays what it is. */
export function ExplanationsBlock(props: {
  explanations: readonly Explanation[];
  network: Network;
  /** Whether tolerances that are not given, or U, may keep something from being found. */
  mayBeMissed: boolean;
  onShow: Show;
}) {
  const { explanations, network, mayBeMissed, onShow } = props;
  return (
    <Block
      title="What explains the reading"
      wide
      source="One fault at a time: a resistor open or short, a source left connected, another preferred value (E24, IEC 60063) in one place. Best first: tolerances, then the nearest. It changes no verdict."
    >
      <p className="network-says" role="status">
        {explanationsSentence(explanations)}
      </p>
      {explanations.length === 0 && mayBeMissed && (
        <p>
          A resistor without a tolerance is taken as it is. Give tolerances, or the uncertainty of the reading, so that
          what comes near is found.
        </p>
      )}
      {explanations.length > 0 && (
        <table className="network-table network-table-narrow">
          <thead>
            <tr>
              <th scope="col">What it may be</th>
              <th scope="col" className="figures">
                Would read
              </th>
              <th scope="col" className="figures">
                Window, worst case
              </th>
            </tr>
          </thead>
          <ResistorRows
            onShow={onShow}
            rows={explanations.map((each) => ({
              key: `${each.what} ${each.name}`,
              name: each.name,
              cells: (
                <>
                  <th scope="row">{explanationWords(each, network)}</th>
                  <td className="figures">{ohmsOrOpen(each.ohms)}</td>
                  <td className="figures">{spanText(each.lowest, each.highest)}</td>
                </>
              ),
            }))}
          />
        </table>
      )}
      <MoreRows count={explanations.length} />
    </Block>
  );
}
