import { join } from 'node:path';
import envPaths from 'env-paths';

/** Where a station keeps its record and certificates. */
export interface DataFolders {
  data: string;
  certificates: string;
}

/** The folders for this user by the rules of their system, or below `chosen`. */
export function dataFolders(chosen?: string): DataFolders {
  const data = chosen ?? envPaths('reelohm', { suffix: '' }).data;
  return { data, certificates: join(data, 'certificates') };
}
