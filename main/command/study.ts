import { basename } from 'node:path';
import { requests } from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import { STUDY_CLOSED } from '../../core/study/studyClosed.ts';
import { studyFileOf, studyOfFile } from '../station/studyFromFile.ts';
import { exitStatus } from './exitStatus.ts';
import { fileText } from './fileText.ts';
import { type OutOptions, writeOut } from './outFile.ts';
import { studyLines } from './studyLines.ts';

export interface StudyOptions extends OutOptions {
  title?: string;
  part?: string;
  nominal?: string;
  tolerance?: string;
  reference?: string;
  referenceUncertainty?: string;
  json?: boolean;
}

/** Works out a study of the measurement whose readings are in a CSV file. */
export async function study(file: string, options: StudyOptions): Promise<number> {
  const { title = basename(file), part, nominal, tolerance, reference, referenceUncertainty } = options;
  const asked = checked('study', requests['import-study'], {
    csv: await fileText(file),
    title,
    part,
    nominal,
    tolerance,
    reference,
    referenceUncertainty,
  });
  const found = studyOfFile(asked);
  const written = await writeOut(options, STUDY_CLOSED, ({ by, ...made }) => studyFileOf({ ...asked, by }, made));
  if (options.json) console.log(JSON.stringify({ type: 'study', title, study: found, written }));
  else {
    for (const line of studyLines(found)) console.log(line);
    if (written) console.log(`Written: ${written.file}`);
  }
  return exitStatus.good;
}
