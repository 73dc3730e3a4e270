import { ipcMain, type WebContents } from 'electron';
import type { StationClient } from '../../core/contract/contract.ts';
import { answer } from '../station/answer.ts';
import { isAppAddress } from './appProtocol.ts';
import { ASK, NEWS } from './channels.ts';

/**
 * Carries the contract between the station and one window. Only the main frame of that window, showing our own page,
 * is answered. Returns how to close the door.
 */
export function openIpcDoor(station: StationClient, contents: WebContents): () => void {
  ipcMain.handle(ASK, (event, message: unknown) => {
    const frame = event.senderFrame;
    const ours = event.sender === contents && frame !== null && frame.parent === null && isAppAddress(frame.url);
    if (!ours) throw new Error('Refused: this page may not ask the station.');
    return answer(station, message);
  });
  const stopListening = station.listen((news) => {
    if (!contents.isDestroyed()) contents.send(NEWS, news);
  });
  return () => {
    stopListening();
    ipcMain.removeHandler(ASK);
  };
}
