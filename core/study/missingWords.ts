/** Most missing readings a message names one by one. */
const MOST_NAMED = 5;

/** Names what is missing: the first ones by themselves, then how many more there are of `count` in all. */
export function missingWords(missing: Iterable<string>, count: number): string {
  const named: string[] = [];
  for (const words of missing) {
    named.push(words);
    if (named.length === MOST_NAMED) break;
  }
  const more = count - named.length;
  return more > 0 ? `${named.join('; ')}; and ${more} more` : named.join('; ');
}
