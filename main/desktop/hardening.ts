import type { Session, WebContents } from 'electron';
import { isAppAddress } from './appProtocol.ts';

/** Keeps any page on our own address, alone in its window. */
export function hardenContents(contents: WebContents): void {
  const stayHome = (event: { url: string; preventDefault(): void }): void => {
    if (!isAppAddress(event.url)) event.preventDefault();
  };
  contents.on('will-navigate', stayHome);
  contents.on('will-frame-navigate', stayHome);
  contents.on('will-redirect', stayHome);
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** Putting the picture of a chart on the clipboard, after a press: the one thing our own page may do. Reading it may nobody. */
function isGranted(permission: string, address: string): boolean {
  return permission === 'clipboard-sanitized-write' && isAppAddress(address);
}

/** Grants a page nothing else (without handlers Electron grants everything) and keeps it off the network. */
export function hardenSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, answer, { requestingUrl }) =>
    answer(isGranted(permission, requestingUrl)),
  );
  session.setPermissionCheckHandler((_contents, permission, origin) => isGranted(permission, origin));
  session.setDevicePermissionHandler(() => false);
  session.webRequest.onBeforeRequest(
    { urls: ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*', 'file:///*'] },
    (_details, answer) => answer({ cancel: true }),
  );
}
