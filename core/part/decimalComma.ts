/** Digits, one comma, digits; no further digits, dots or commas beside them. */
const NUMBER = /(?<![\d.,])(\d+),(\d+)(?![\d.,])/g;
const ANY_COMMA = /\d,\d/;
/** Up to three figures and one dot or more, each with three figures behind it: 4 700 where dots stand between thousands. */
const THOUSANDS = /(?<![\d.,])[1-9]\d{0,2}(?:\.\d{3})+(?![\d.,])/;

/**
 * A text of a file in which commas are decimal signs with dots instead, like `4,7k` as `4.7k`; null where a comma or a dot may just
 * as well stand between thousands, as in `4,700`, `4.700` or `1,000,000`. A number that begins with 0 has no thousands.
 */
export function withDecimalDots(text: string): string | null {
  if (THOUSANDS.test(text)) return null;
  const dotted = text.replace(NUMBER, (found, whole: string, decimals: string) =>
    decimals.length === 3 && whole.length <= 3 && !whole.startsWith('0') ? found : `${whole}.${decimals}`,
  );
  return ANY_COMMA.test(dotted) ? null : dotted;
}
