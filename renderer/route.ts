import { useSyncExternalStore } from 'react';

/** What can be looked at beside the step of the job: the worth of a reading, the figures of the lot, the part's other lots, what happened in the run, its certificate on paper. */
const VIEWS = ['worth', 'figures', 'lots', 'story', 'print'] as const;
export type RunView = (typeof VIEWS)[number];

/** Screens that need no run, each at the address of its name. */
const LONE_SCREENS = ['receive', 'study', 'stress', 'networks', 'continuity', 'parts', 'practice', 'record'] as const;

/** Which screen is shown. It stands in the address, so that a page that is loaded anew comes back to its place. */
export type Route =
  | { screen: 'runs' }
  | { screen: (typeof LONE_SCREENS)[number] }
  /** `query` is what is looked for, as it stands in the address. */
  | { screen: 'history'; query: string; trends: boolean }
  /** Continuity runs; with a number that one. */
  | { screen: 'wiring'; run?: number }
  | { screen: 'run'; run: number; view?: RunView };

/** Reads the part of the address after `#`; anything unknown is the start page. */
export function routeOf(hash: string): Route {
  const lone = LONE_SCREENS.find((screen) => hash === `#/${screen}`);
  if (lone) return { screen: lone };
  const wiring = /^#\/wiring(?:\/([1-9]\d{0,14}))?$/.exec(hash);
  if (wiring) return { screen: 'wiring', ...(wiring[1] !== undefined && { run: Number(wiring[1]) }) };
  const history = /^#\/history(\/trends)?(?:\?(.*))?$/.exec(hash);
  if (history) return { screen: 'history', query: history[2] ?? '', trends: history[1] !== undefined };
  const [, run, found] = /^#\/run\/([1-9]\d{0,14})(?:\/([a-z]+))?$/.exec(hash) ?? [];
  if (run === undefined) return { screen: 'runs' };
  const view = VIEWS.find((name) => name === found);
  return { screen: 'run', run: Number(run), ...(view && { view }) };
}

/** The part of the address after `#` for a screen. */
export function hashOf(route: Route): string {
  if (route.screen === 'history') {
    return `#/history${route.trends ? '/trends' : ''}${route.query === '' ? '' : `?${route.query}`}`;
  }
  if (route.screen === 'wiring') return `#/wiring${route.run === undefined ? '' : `/${route.run}`}`;
  if (route.screen !== 'run') return route.screen === 'runs' ? '#/' : `#/${route.screen}`;
  return `#/run/${route.run}${route.view ? `/${route.view}` : ''}`;
}

/** Shows another screen. */
export function goTo(route: Route): void {
  location.hash = hashOf(route);
}

/** Shows another screen in place of this one: the way back leads past this one. */
export function goInPlace(route: Route): void {
  location.replace(hashOf(route));
}

function onChange(heard: () => void): () => void {
  window.addEventListener('hashchange', heard);
  return () => window.removeEventListener('hashchange', heard);
}

/** The screen that is to be shown now. */
export function useRoute(): Route {
  return routeOf(useSyncExternalStore(onChange, () => location.hash));
}
