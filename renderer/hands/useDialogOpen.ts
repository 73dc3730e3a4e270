import { useSyncExternalStore } from 'react';

function onDialogs(hear: () => void): () => void {
  const watcher = new MutationObserver(hear);
  watcher.observe(document.body, { attributes: true, attributeFilter: ['open'], subtree: true, childList: true });
  return () => watcher.disconnect();
}

const isOpen = () => document.querySelector('dialog[open]') !== null;

/** Whether any dialog stands over the screen: hands are then at the keyboard and not on a piece. */
export function useDialogOpen(): boolean {
  return useSyncExternalStore(onDialogs, isOpen);
}
