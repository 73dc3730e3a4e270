import { fieldsOf, isNumber } from '../../instruments/scpi/message.ts';
import type { Fuzzed } from './fuzz.ts';
import type { SeededRandom } from './seededRandom.ts';

const CHARACTERS = `;;;;""''0123456789+-.,E *?ABC:\\\0\u00ff\u0661\uff11`.split('') as [string, ...string[]];

/**
 * Response messages of all kinds: their fields (IEEE 488.2 8.4.1: separated by semicolons; 8.7.8: not inside quotes) and
 * which of them is a given whole number (8.7.2). `accepted` counts the fields that were taken for the number.
 */
export function fuzzMessages(
  random: SeededRandom,
  count: number,
  product: { fieldsOf: typeof fieldsOf; isNumber: typeof isNumber } = { fieldsOf, isNumber },
): Fuzzed {
  const fuzzed: Fuzzed = { tried: 0, accepted: 0, faults: [] };
  for (; fuzzed.tried < count; fuzzed.tried++) {
    const wanted = random.whole(0, 255);
    const text = random.chance(0.5) ? anything(random) : `${anything(random)};${nearly(wanted, random)}`;
    try {
      const fields = product.fieldsOf(text);
      if (JSON.stringify(fields) !== JSON.stringify(fieldsByMask(text))) {
        fuzzed.faults.push(`${JSON.stringify(text)}: taken apart as ${JSON.stringify(fields)}`);
      }
      for (const field of fields) {
        const taken = product.isNumber(field, wanted);
        if (taken) fuzzed.accepted++;
        if (taken !== isNumberByCharacters(field, wanted)) {
          fuzzed.faults.push(`${JSON.stringify(field)}: ${taken ? '' : 'not '}taken for ${wanted}`);
        }
      }
    } catch (thrown) {
      fuzzed.faults.push(`${JSON.stringify(text)}: threw ${thrown}`);
    }
  }
  return fuzzed;
}

function anything(random: SeededRandom): string {
  return Array.from({ length: random.whole(0, 30) }, () => random.pick(CHARACTERS)).join('');
}

function nearly(wanted: number, random: SeededRandom): string {
  const text = String(wanted);
  return random.pick([
    text,
    text,
    `+${text}`,
    `-${text}`,
    ` ${text} `,
    `"${text}"`,
    `'${text}"`,
    `0${text}`,
    `${text}.0`,
    `${text}E+00`,
    `000000${text}`,
    `${text}\0`,
    text.replace(/\d/, (digit) => String.fromCodePoint(0xff10 + Number(digit))),
  ]);
}

/** What stands in quotes is painted over first, then it is cut at what semicolons are left. */
function fieldsByMask(text: string): string[] {
  const painted = text.replace(/"[^"]*("|$)|'[^']*('|$)/g, (quoted) => '_'.repeat(quoted.length));
  let at = 0;
  return painted.split(';').map((part) => {
    const field = text.slice(at, at + part.length);
    at += part.length + 1;
    return field;
  });
}

function isNumberByCharacters(field: string, wanted: number): boolean {
  let characters = [...field];
  while (characters[0] === ' ') characters = characters.slice(1);
  while (characters.at(-1) === ' ') characters = characters.slice(0, -1);
  const [first = ''] = characters;
  if (first === '"' || first === "'") {
    if (characters.length < 2 || characters.at(-1) !== first) return false;
    characters = characters.slice(1, -1);
  }
  if (characters[0] === '+') characters = characters.slice(1);
  if (characters.length < 1 || characters.length > 6) return false;
  let value = 0;
  for (const character of characters) {
    const digit = '0123456789'.indexOf(character);
    if (digit < 0) return false;
    value = value * 10 + digit;
  }
  return value === wanted;
}
