import { useSyncExternalStore } from 'react';
import type { Feed } from './feed.ts';

/**
 * What a screen shows of a feed; it is drawn anew only when that is another.
 * @param choose gives a text, a number or another plain value that is equal while what is shown is equal
 */
export function useFeed<T, S extends string | number | boolean | null>(
  feed: Feed<T>,
  choose: (latest: T | null) => S,
): S {
  return useSyncExternalStore(feed.listen, () => choose(feed.latest));
}
