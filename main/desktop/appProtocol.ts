import { type Protocol, protocol } from 'electron';
import type { PageFile } from '../station/pageFiles.ts';
import { pageHeaders } from '../station/pageHeaders.ts';

const SCHEME = 'app';
const HOST = 'station';

/** Where the window's page lies. */
export const APP_ADDRESS = `${SCHEME}://${HOST}/`;

/** Whether an address is one of our page's, by its parts: a prefix would also fit `app://station.example/`. */
export function isAppAddress(address: string): boolean {
  const url = URL.parse(address);
  return url?.protocol === `${SCHEME}:` && url.host === HOST && url.username === '' && url.password === '';
}

/** Makes the scheme one with an origin of its own, like https. Must be called before the app is ready. */
export function registerAppScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ]);
}

/** Serves the screen's files, and nothing else, at {@link APP_ADDRESS}. */
export function serveApp(target: Protocol, files: ReadonlyMap<string, PageFile>): void {
  target.handle(SCHEME, (request) => {
    const url = URL.parse(request.url);
    const file = isAppAddress(request.url) && request.method === 'GET' ? files.get(url?.pathname ?? '') : undefined;
    if (!file) return new Response('There is nothing here.', { status: 404, headers: pageHeaders() });
    return new Response(file.body, {
      headers: { ...pageHeaders(), 'Content-Type': file.type, 'Cache-Control': file.cache },
    });
  });
}
