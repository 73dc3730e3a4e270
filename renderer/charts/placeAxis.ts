/** Most names below an axis; with more, every second, third … is written. */
const MOST_NAMES = 20;
const LONGEST_NAME = 10;

/** The places of named things along an axis, from 1: which are marked, and with what. */
export function placesOf(names: readonly string[]): {
  domain: [number, number];
  ticks: number[];
  text: (place: number) => string;
} {
  const every = Math.ceil(names.length / MOST_NAMES);
  return {
    domain: [0.5, names.length + 0.5],
    ticks: names.map((_, index) => index + 1).filter((place) => (place - 1) % every === 0),
    text: (place) => {
      const name = names[place - 1] ?? '';
      return name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME - 1)}…` : name;
    },
  };
}
