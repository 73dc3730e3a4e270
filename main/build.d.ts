/** Builds the program when a source is newer than what was built last. */
export function buildIfStale(): void;
