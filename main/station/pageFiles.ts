import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join, sep } from 'node:path';
import { problem, wordsOf } from '../../core/problem/problem.ts';

/** One file of the screen, ready to be served. */
export interface PageFile {
  body: Buffer<ArrayBuffer>;
  /** Value of Content-Type. */
  type: string;
  /** Value of Cache-Control. */
  cache: string;
}

/** The kinds of file the screen is made of; anything else in the folder is not served. */
const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
};

/**
 * Reads the built screen into memory, by the path it is asked for ("/" and "/assets/…"). A door serves from this map
 * and never opens a file for a request: no path can lead out of the folder, and a folder that is built anew or deleted
 * under a running station does no harm. Links and files that begin with a dot are left out.
 * @throws problem file-unreadable where the screen was not built
 */
export function readPageFiles(folder: string): ReadonlyMap<string, PageFile> {
  const files = new Map<string, PageFile>();
  try {
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
      const parts = name.split(sep);
      const type = TYPES[extname(name)];
      if (!type || parts.some((part) => part.startsWith('.')) || !lstatSync(join(folder, name)).isFile()) continue;
      // The bundler puts a hash of the content into every name below assets/, so such a name never changes its meaning.
      const cache = parts[0] === 'assets' ? 'private, max-age=31536000, immutable' : 'no-store';
      files.set(`/${parts.join('/')}`, { body: readFileSync(join(folder, name)), type, cache });
    }
  } catch (thrown) {
    throw problem('file-unreadable', folder, wordsOf(thrown));
  }
  const index = files.get('/index.html');
  if (!index) throw problem('file-unreadable', join(folder, 'index.html'), 'the screen was not built');
  files.set('/', index);
  return files;
}
