/**
 * One program message of several commands and questions: each begins at the root, so that none depends on the branch of
 * the one before it (SCPI-1999 volume 1, 6.2.4; IEEE 488.2 7.4.1: separated by semicolons).
 */
export function messageOf(units: readonly string[]): string {
  return units.map((unit, index) => (index === 0 || /^[*:]/.test(unit) ? unit : `:${unit}`)).join(';');
}

/**
 * The fields of one response message: separated by semicolons, of which one inside a quoted string is no separator
 * (IEEE 488.2 8.4.1 and 8.7.8).
 */
export function fieldsOf(answer: string): string[] {
  if (!/["']/.test(answer)) return answer.split(';');
  const fields: string[] = [];
  let start = 0;
  let quote = '';
  for (let at = 0; at < answer.length; at++) {
    const character = answer.charAt(at);
    if (quote !== '') {
      if (character === quote) quote = '';
    } else if (character === '"' || character === "'") {
      quote = character;
    } else if (character === ';') {
      fields.push(answer.slice(start, at));
      start = at + 1;
    }
  }
  fields.push(answer.slice(start));
  return fields;
}

/**
 * Whether the field is this whole number as NR1 (IEEE 488.2 8.7.2), or that in quotes as a text register gives it. A
 * reading of the same value is NR2 or NR3.
 */
export function isNumber(field: string | undefined, number: number): boolean {
  const digits = /^ *(["']?)\+?(\d{1,6})\1 *$/.exec(field ?? '')?.[2];
  return digits !== undefined && Number(digits) === number;
}
