/** Digits, one comma, digits; no further digits, dots or commas beside them. */
const NUMBER = /(?<![\d.,])(\d+),(\d+)(?![\d.,])/g;
const ANY_COMMA = /\d,\d/;

/**
 * A text with its decimal commas as dots, like `4,7k` as `4.7k`; null where a comma may just as well stand between thousands,
 * as in `4,700` or `1,000,000`. A number that begins with 0 has no thousands.
 */
export function withDecimalDots(text: string): string | null {
  const dotted = text.replace(NUMBER, (found, whole: string, decimals: string) =>
    decimals.length === 3 && whole.length <= 3 && !whole.startsWith('0') ? found : `${whole}.${decimals}`,
  );
  return ANY_COMMA.test(dotted) ? null : dotted;
}
