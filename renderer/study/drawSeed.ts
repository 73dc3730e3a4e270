/** A seed for the order of a study, drawn by the computer's own randomness: a whole number from 0 to 4 294 967 295. */
export function drawSeed(): string {
  return String(crypto.getRandomValues(new Uint32Array(1))[0] ?? 0);
}
