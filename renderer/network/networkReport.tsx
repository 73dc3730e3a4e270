import { useMemo, useState } from 'react';
import { explanationsOf, type MeasuredOhms } from '../../core/network/explanations.ts';
import type { Network } from '../../core/network/network.ts';
import type { NetworkAnalysis } from '../../core/network/networkAnalysis.ts';
import { Block } from '../sheet/sheet.tsx';
import { ExpectedBlock } from './expectedBlock.tsx';
import { ExplanationsBlock } from './explanationsBlock.tsx';
import { FaultsBlock } from './faultsBlock.tsx';
import { InCircuitBlock } from './inCircuitBlock.tsx';
import { NetworkDrawing } from './networkDrawing.tsx';
import { ResistorsBlock } from './resistorsBlock.tsx';
import { SourcesBlock } from './sourcesBlock.tsx';
import { suspectsOf } from './suspects.ts';

/** How the network is joined, what explains a reading, and what its resistors do. */
export function NetworkReport(props: {
  /** As it was described, for paper. */
  text: string;
  network: Network;
  analysis: NetworkAnalysis;
  measured: MeasuredOhms | null;
}) {
  const { text, network, analysis, measured } = props;
  const { expected, faults, inCircuit } = analysis;
  const [shown, setShown] = useState<string | null>(null);
  const explanations = useMemo(
    () => measured && explanationsOf(network, analysis, measured),
    [network, analysis, measured],
  );
  const suspects = useMemo(() => suspectsOf(explanations ?? []), [explanations]);
  return (
    <div className="network-report">
      <div className="printed-only">
        <div className="network-report">
          {analysis.sourcesLeft && <SourcesBlock sources={analysis.sourcesLeft} terminals={analysis.terminals} />}
          <Block title="The network">
            <pre className="machine">{text}</pre>
          </Block>
          <ExpectedBlock
            title="What is to be read"
            expected={expected}
            terminals={analysis.terminals}
            measured={measured}
          />
        </div>
      </div>
      <Block title="As it is joined">
        <NetworkDrawing network={network} analysis={analysis} suspects={suspects} shown={shown} />
      </Block>
      {explanations && (
        <ExplanationsBlock
          explanations={explanations}
          network={network}
          mayBeMissed={expected.isWithoutTolerance && measured?.ohms !== Number.POSITIVE_INFINITY}
          onShow={setShown}
        />
      )}
      <FaultsBlock faults={faults} nominal={expected.nominal} onShow={setShown} />
      <InCircuitBlock inCircuit={inCircuit} onShow={setShown} />
      <ResistorsBlock network={network} expected={expected} onShow={setShown} />
    </div>
  );
}
