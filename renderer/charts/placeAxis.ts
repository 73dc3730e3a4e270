/** Letters that fit below a chart as wide as its page, and below one of two beside each other, where both are narrowest. */
export const WIDE = 104;
export const HALF = 46;

/** What a name takes at least, with the space to the next: with more names every second, third … is written. */
const LEAST_LETTERS = 4.5;

/**
 * The places of named things along an axis, from 1: which are marked, and with what. Names too long for their place leave out
 * what they all begin with, so that what tells them apart is seen.
 * @param room letters that fit below the axis: {@link WIDE} or {@link HALF}
 */
export function placesOf(
  names: readonly string[],
  room = WIDE,
): {
  domain: [number, number];
  ticks: number[];
  text: (place: number) => string;
} {
  const every = Math.max(1, Math.ceil((names.length * LEAST_LETTERS) / room));
  const ticks = names.map((_, index) => index + 1).filter((place) => (place - 1) % every === 0);
  const longest = Math.floor(room / Math.max(1, ticks.length)) - 1;
  const alike = names.every((name) => name.length <= longest) ? 0 : commonStart(names);
  return {
    domain: [0.5, names.length + 0.5],
    ticks,
    text: (place) => {
      const whole = names[place - 1] ?? '';
      const name = alike > 0 ? `…${whole.slice(alike)}` : whole;
      return name.length > longest ? `${name.slice(0, longest - 1)}…` : name;
    },
  };
}

/** How many letters all these names begin with; something is left of each. */
function commonStart([first = '', ...others]: readonly string[]): number {
  if (others.length === 0) return 0;
  const shortest = Math.min(first.length, ...others.map((name) => name.length));
  let length = 0;
  while (length < shortest - 1 && others.every((name) => name[length] === first[length])) length++;
  return length;
}
