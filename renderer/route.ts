import { useSyncExternalStore } from 'react';

/** Which screen is shown. It stands in the address, so that a page that is loaded anew comes back to its place. */
export type Route = { screen: 'runs' } | { screen: 'receive' } | { screen: 'run'; run: number };

/** Reads the part of the address after `#`; anything unknown is the start page. */
export function routeOf(hash: string): Route {
  if (hash === '#/receive') return { screen: 'receive' };
  const run = /^#\/run\/([1-9]\d{0,14})$/.exec(hash)?.[1];
  return run === undefined ? { screen: 'runs' } : { screen: 'run', run: Number(run) };
}

/** The part of the address after `#` for a screen. */
export function hashOf(route: Route): string {
  return route.screen === 'run' ? `#/run/${route.run}` : route.screen === 'receive' ? '#/receive' : '#/';
}

/** Shows another screen. */
export function goTo(route: Route): void {
  location.hash = hashOf(route);
}

function onChange(heard: () => void): () => void {
  window.addEventListener('hashchange', heard);
  return () => window.removeEventListener('hashchange', heard);
}

/** The screen that is to be shown now. */
export function useRoute(): Route {
  return routeOf(useSyncExternalStore(onChange, () => location.hash));
}
