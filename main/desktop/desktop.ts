import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { dataFolders } from '../station/dataFolder.ts';
import { openingStation } from '../station/openingStation.ts';
import { VERSION } from '../version.ts';
import { runDesktop } from './runDesktop.ts';

// Not strict: Chromium's own switches stand on the same command line.
const { data } = parseArgs({
  args: process.argv.slice(1),
  options: { data: { type: 'string' } },
  strict: false,
}).values;
const folders = dataFolders(typeof data === 'string' ? data : undefined);

// The folders beside this file in dist/.
void runDesktop({
  dataFolder: folders.data,
  openStation: () => openingStation({ folders, version: VERSION }),
  rendererFolder: join(import.meta.dirname, '../renderer'),
  preload: join(import.meta.dirname, '../preload/preload.cjs'),
});
