import { setImmediate } from 'node:timers/promises';
import type { Answers, CheckedQuestion, RequestName } from '../../core/contract/contract.ts';
import { briefly, type PartInput } from '../../core/part/part.ts';
import { doAside } from '../aside/doAside.ts';
import { now } from './clock.ts';
import { AT_ONE_GO, type KnownParts } from './knownParts.ts';
import type { LongWorks } from './longWorks.ts';

type PartsRequest = Extract<
  RequestName,
  'parts' | 'part' | 'save-part' | 'remove-part' | 'preview-parts' | 'import-parts' | 'export-parts'
>;

type Doing = { [N in PartsRequest]: (question: CheckedQuestion<N>) => Promise<Answers[N]> };

/** Characters of `parts.json` for each part, roughly. */
const CHARACTERS_OF_A_PART = 300;

/** What the parts list needs of its station. */
interface Surroundings {
  /** The folder it is kept in. */
  folder: string;
  works: LongWorks;
  /** Told after each change. */
  tellChanged: () => void;
  /** Writes a text under a free name. */
  writeFile: (name: string, text: string) => Promise<Answers['export-parts']>;
}

/** What the station answers of its parts list. */
export function partsAsked(known: KnownParts, { folder, works, tellChanged, writeFile }: Surroundings): Doing {
  /** What a file and the list have to be worked through for. */
  const charactersWith = async (csv: string) => csv.length + (await known.all()).byNumber.size * CHARACTERS_OF_A_PART;
  return {
    parts: async () => {
      const brief: PartInput[] = [];
      for (const part of (await known.all()).byNumber.values()) {
        if (brief.push(briefly(part)) % AT_ONE_GO === 0) await setImmediate();
      }
      return brief;
    },
    part: async ({ number }) => {
      const found = (await known.all()).byNumber.get(number.normalize('NFC'));
      return { part: found ? briefly(found) : null };
    },
    'save-part': async ({ part, was, over }) => {
      await known.save(part, was ?? null, over);
      tellChanged();
      return {};
    },
    'remove-part': async ({ number }) => {
      await known.remove(number);
      tellChanged();
      return {};
    },
    'preview-parts': ({ work, csv }) =>
      works.begin(work, async (going) =>
        doAside('preview-parts', { folder, csv }, { ...going, characters: await charactersWith(csv) }),
      ),
    'import-parts': ({ work, ...asked }) =>
      works.begin(work, async (going) => {
        const characters = await charactersWith(asked.csv);
        const { text, imported } = await doAside('list-with-parts', { folder, ...asked }, { ...going, characters });
        going.throwIfStopped();
        await known.replace(text, asked.version);
        tellChanged();
        return { imported };
      }),
    'export-parts': ({ work }) =>
      works.begin(work, async (going) => {
        const characters = await charactersWith('');
        const text = await doAside('parts-file', { folder }, { ...going, characters });
        going.throwIfStopped();
        return writeFile(`parts-${now().slice(0, 10)}`, text);
      }),
  };
}
