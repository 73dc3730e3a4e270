import { contextBridge, ipcRenderer } from 'electron';
import type { News, Told } from '../../core/contract/contract.ts';
import { ASK, NEWS } from './channels.ts';

let lastId = 0;

/**
 * The one thing the page gets. An answer comes back as the contract's {@link Told}, a problem too: a thrown error would
 * lose its fields on the way. The page never sees an event of Electron's.
 */
contextBridge.exposeInMainWorld('reelohm', {
  ask(name: string, question: unknown): Promise<Told> {
    lastId += 1;
    return ipcRenderer.invoke(ASK, { id: lastId, name, question });
  },
  listen(hear: (news: News) => void): () => void {
    const pass = (_event: unknown, news: News): void => hear(news);
    ipcRenderer.on(NEWS, pass);
    return () => {
      ipcRenderer.removeListener(NEWS, pass);
    };
  },
});
