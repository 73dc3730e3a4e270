import { useMemo, useRef, useState } from 'react';
import { analyseNetwork, type NetworkAnalysis } from '../../core/network/networkAnalysis.ts';
import { Confirm } from '../controls/confirm.tsx';
import { useKept } from '../controls/useKept.ts';
import { usePause } from '../controls/usePause.ts';
import { PrintAction } from '../print/printAction.tsx';
import { Sheet } from '../sheet/sheet.tsx';
import { SheetForm } from '../sheet/sheetForm.tsx';
import { DescribeFields } from './describeFields.tsx';
import { ExpectedBlock } from './expectedBlock.tsx';
import { InspectAsPart } from './inspectAsPart.tsx';
import { MeasuredFields } from './measuredFields.tsx';
import {
  describedBy,
  EMPTY_NETWORK,
  type NetworkDraft,
  type NetworkField,
  readMeasured,
  terminalsOf,
} from './networkDraft.ts';
import { NetworkReport } from './networkReport.tsx';
import { SourcesBlock } from './sourcesBlock.tsx';
import { useSettled } from './useSettled.ts';
import './network.css';

/** Up to so many letters a network is worked out at every one of them; a longer one once typing stops. */
const SHORT_TEXT = 6000;
const PAUSE_MILLISECONDS = 500;

/** Resistor networks: what is to be read between two nodes, how far tolerances let it be, what a fault would show. */
export default function NetworkScreen() {
  const form = useRef<HTMLFormElement>(null);
  const exampleInstead = useRef<HTMLDialogElement>(null);
  const example = useRef('');
  const kept = useKept<NetworkDraft>('networks', () => EMPTY_NETWORK);
  const { value: draft, set: setDraft } = kept;
  const paused = usePause(draft);
  const [left, setLeft] = useState<ReadonlySet<NetworkField>>(new Set());
  const set = (change: Partial<NetworkDraft>) => setDraft((before) => ({ ...before, ...change }));
  const leave = (field: NetworkField) => setLeft((before) => new Set([...before, field]));

  const text = useSettled(draft.text, draft.text.length > SHORT_TEXT ? PAUSE_MILLISECONDS : 0);
  const described = useMemo(() => describedBy(text), [text]);
  const { network } = described;
  const [from, to] = terminalsOf(described, draft) ?? [];
  const analysis = useMemo((): NetworkAnalysis | null => {
    if (network === null || from === undefined || to === undefined || from === to) return null;
    return analyseNetwork(network, [from, to]);
  }, [network, from, to]);
  const { measured, problems } = useMemo(
    () => readMeasured({ measured: draft.measured, uncertainty: draft.uncertainty }),
    [draft.measured, draft.uncertainty],
  );

  /** Nobody is told what is wrong with what is still being typed. */
  const problemOf = (field: NetworkField): string | undefined => {
    if (field === 'to' && from !== undefined && from === to)
      return 'Both are the same node. Choose two different ones.';
    if (!paused && !left.has(field)) return undefined;
    return field === 'text' ? (described.problem ?? undefined) : problems[field];
  };
  const fillIn = (words: string) => setDraft({ ...EMPTY_NETWORK, text: words });

  return (
    <Sheet title="Networks" aside={analysis && <PrintAction />}>
      <p className="unprinted">
        Resistors joined to a network: what is to be read between two of its nodes, how far tolerances let it be, and
        which resistor may be open or short where it reads otherwise.
      </p>
      <SheetForm ref={form} kept={kept} onSend={() => undefined}>
        <div className="sheet-column">
          <DescribeFields
            text={draft.text}
            problem={problemOf('text')}
            onText={(words) => set({ text: words })}
            onLeft={() => leave('text')}
            onExample={(words) => {
              if (draft.text.trim() === '') return fillIn(words);
              example.current = words;
              exampleInstead.current?.showModal();
            }}
          />
          {analysis?.sourcesLeft && <SourcesBlock sources={analysis.sourcesLeft} terminals={analysis.terminals} />}
        </div>
        <div className="sheet-column">
          <MeasuredFields
            draft={draft}
            nodes={described.nodes}
            terminals={from === undefined || to === undefined ? null : [from, to]}
            onChange={set}
            onLeft={leave}
            problemOf={problemOf}
          />
          {network && analysis && (
            <>
              <ExpectedBlock expected={analysis.expected} terminals={analysis.terminals} measured={measured} />
              <InspectAsPart network={network} terminals={analysis.terminals} expected={analysis.expected} />
            </>
          )}
        </div>
      </SheetForm>
      <Confirm
        ref={exampleInstead}
        title="Fill in the example instead?"
        words="Fill in the example"
        otherwise="Keep what is there"
        onConfirm={() => fillIn(example.current)}
      >
        <p>The network that is described now is gone then.</p>
      </Confirm>
      {network && analysis && <NetworkReport text={text} network={network} analysis={analysis} measured={measured} />}
      {described.problem !== null && <p className="quiet">Nothing is worked out until the description can be read.</p>}
    </Sheet>
  );
}
