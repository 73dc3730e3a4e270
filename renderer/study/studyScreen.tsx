import { useState } from 'react';
import { RadioField } from '../controls/field.tsx';
import { keptForms, useKept } from '../controls/useKept.ts';
import { Sheet } from '../sheet/sheet.tsx';
import { remembered } from '../theme/remembered.ts';
import { today } from '../words/time.ts';
import { drawSeed } from './drawSeed.ts';
import { EMPTY_IMPORT, type ImportDraft } from './importDraft.ts';
import { ImportStudyForm } from './importStudyForm.tsx';
import { MeasureStudyForm } from './measureStudyForm.tsx';
import { EMPTY_STUDY, type StudyDraft } from './studyDraft.ts';

type Way = 'measure' | 'import';

/** A study of the measurement: planned here and then measured as a run, or worked out from readings in a file. */
export default function StudyScreen() {
  const [way, setWay] = useState<Way>(() =>
    keptForms.left('study-import') && !keptForms.left('study') ? 'import' : 'measure',
  );
  // Both forms live here, so that a look at the other way loses nothing.
  const measured = useKept<StudyDraft>('study', () => ({
    ...EMPTY_STUDY,
    inspector: remembered('inspector') ?? '',
    name: `study-${today()}`,
    seed: drawSeed(),
  }));
  const imported = useKept<ImportDraft>('study-import', () => ({ ...EMPTY_IMPORT, by: remembered('inspector') ?? '' }));
  return (
    <Sheet title="Study of the measurement">
      <div className="sheet-lead unprinted">
        <p>
          How much of what the readings show is the meter, the contact and the hand, and how much the pieces? The same
          pieces are measured again and again, in random order.
        </p>
        <RadioField<Way>
          legend="Where the readings come from"
          name="way"
          value={way}
          onChange={setWay}
          choices={[
            ['measure', 'Measure a study'],
            ['import', 'Take readings from a file'],
          ]}
        />
      </div>
      {way === 'measure' ? <MeasureStudyForm kept={measured} /> : <ImportStudyForm kept={imported} />}
    </Sheet>
  );
}
