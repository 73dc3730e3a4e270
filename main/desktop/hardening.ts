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

/** Grants a page nothing (without handlers Electron grants everything) and keeps it off the network. */
export function hardenSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.webRequest.onBeforeRequest(
    { urls: ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*', 'file:///*'] },
    (_details, answer) => answer({ cancel: true }),
  );
}
