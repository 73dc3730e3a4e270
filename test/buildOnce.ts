import { buildIfStale } from '../main/build.js';

/** Process and browser tests run what users run: the built program. */
export default function setup(): void {
  buildIfStale();
}
