import { BrowserWindow, Menu } from 'electron';
import { APP_ADDRESS } from './appProtocol.ts';

/** Makes the station's window, not shown yet and empty. */
export function createWindow(preload: string): BrowserWindow {
  // Electron's own menu offers links to the web; ours keeps editing, zoom and the window's own.
  Menu.setApplicationMenu(
    Menu.buildFromTemplate([{ role: 'fileMenu' }, { role: 'editMenu' }, { role: 'viewMenu' }, { role: 'windowMenu' }]),
  );
  return new BrowserWindow({
    title: 'Reelohm',
    width: 1280,
    height: 860,
    minWidth: 640,
    minHeight: 480,
    show: false,
    autoHideMenuBar: true,
    webPreferences: {
      preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      // The spell checker would fetch its dictionaries from the network.
      spellcheck: false,
    },
  });
}

/** Loads the page, then shows the window. */
export async function showWindow(window: BrowserWindow): Promise<void> {
  await window.loadURL(APP_ADDRESS);
  window.show();
}

/** Brings the window to the front, from wherever it is. */
export function bringToFront(window: BrowserWindow): void {
  if (window.isMinimized()) window.restore();
  window.show();
  window.focus();
}
