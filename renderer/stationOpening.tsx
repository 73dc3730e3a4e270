import { useEffect } from 'react';
import type { Progress } from '../core/progress/progress.ts';
import { progressWords } from '../core/progress/progressWords.ts';
import { useStation } from './station/station.tsx';

/** The station is being opened: every entry of its record is checked first, so that nothing of an altered one is shown. */
export function StationOpening({ progress }: { progress: Progress }) {
  const { line } = useStation();
  useEffect(() => {
    document.title = 'Opening · Reelohm';
  }, []);
  return (
    <main className="lone" aria-busy="true">
      <h1>Opening the station</h1>
      <p role="status">Checking every entry of the record …</p>
      <p className="figures">{progressWords(progress)}</p>
      <progress max={progress.of} value={progress.done} aria-label="Entries checked" />
      <p className="quiet">
        {line.door === 'desktop' ? 'Close the window to stop.' : 'Ctrl-C where the station was started stops it.'}
      </p>
    </main>
  );
}
