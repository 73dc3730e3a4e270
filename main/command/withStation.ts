import { dataFolders } from '../station/dataFolder.ts';
import { openStation, type Station } from '../station/station.ts';
import { VERSION } from '../version.ts';
import { LiveLine } from './liveLine.ts';

/**
 * Opens the station of a data folder without a window for one thing, and closes it after.
 * @param data the folder; where it is left out that of this user
 * @throws problems of openStation, and of what is done
 */
export async function withStation<T>(data: string | undefined, use: (station: Station) => Promise<T>): Promise<T> {
  const checking = new LiveLine('Checking the record');
  const station = openStation({ folders: dataFolders(data), version: VERSION, tell: checking.tell });
  checking.end();
  try {
    return await use(station);
  } finally {
    await station.close();
  }
}

/** Says on a terminal how far work of that name is, while it goes on. @param words what is being done */
export async function telling<T>(station: Station, work: string, words: string, done: () => Promise<T>): Promise<T> {
  const line = new LiveLine(words);
  const stopListening = station.listen((news) => {
    if (news.kind === 'work' && news.work === work && news.progress) line.tell(news.progress);
  });
  try {
    return await done();
  } finally {
    stopListening();
    line.end();
  }
}
