import { useLayoutEffect, useRef, useState } from 'react';
import type { PartInput } from '../../core/part/part.ts';
import { Action } from '../controls/action.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { goTo } from '../route.ts';
import { Sheet } from '../sheet/sheet.tsx';
import { ExportParts } from './exportParts.tsx';
import { ImportParts } from './importParts.tsx';
import { NoPartsYet } from './noPartsYet.tsx';
import { PartForm } from './partForm.tsx';
import { PartsList } from './partsList.tsx';
import { useParts } from './useParts.ts';
import './partsScreen.css';

type View = { kind: 'list' } | { kind: 'part'; part: PartInput | null } | { kind: 'import' };

/** The parts list: finding, adding, changing and removing parts, and taking them from a file or into one. */
export default function PartsScreen() {
  const { known, problem } = useParts();
  const [view, setView] = useState<View>({ kind: 'list' });
  const [typed, setTyped] = useState('');
  const [done, setDone] = useState('');

  function backWith(words: string) {
    setDone(words);
    setView({ kind: 'list' });
  }
  function open(next: View) {
    setDone('');
    setView(next);
  }

  if (view.kind === 'part') {
    return (
      <PartForm
        key={view.part?.number ?? ''}
        part={view.part}
        index={known?.index ?? null}
        onDone={backWith}
        onLeave={() => backWith('')}
      />
    );
  }
  if (view.kind === 'import') return <ImportParts onDone={backWith} onLeave={() => backWith('')} />;

  const ways = (
    <>
      <Action keyName="n" primary={known?.parts.length === 0} onPress={() => open({ kind: 'part', part: null })}>
        Add a part
      </Action>
      <Action keyName="i" onPress={() => open({ kind: 'import' })}>
        Import from CSV
      </Action>
    </>
  );
  return (
    <Sheet
      title="Parts"
      aside={
        <div className="actions">
          {known && known.parts.length > 0 && ways}
          <Action keyName="Escape" onPress={() => goTo({ screen: 'runs' })}>
            Back
          </Action>
        </div>
      }
    >
      <Done words={done} />
      <ProblemNotice problem={problem} />
      {known?.parts.length === 0 && <NoPartsYet>{ways}</NoPartsYet>}
      {known && known.parts.length > 0 && (
        <>
          <PartsList known={known} typed={typed} onType={setTyped} onOpen={(part) => open({ kind: 'part', part })} />
          <ExportParts count={known.parts.length} />
        </>
      )}
    </Sheet>
  );
}

/** What was done last, read out. */
function Done({ words }: { words: string }) {
  const line = useRef<HTMLParagraphElement>(null);
  // The words come after the region that tells them, or nobody hears them.
  useLayoutEffect(() => {
    if (line.current) line.current.textContent = words;
  }, [words]);
  return <p ref={line} role="status" className={words === '' ? 'unseen' : 'parts-done'} />;
}
