/**
 * Whole numbers in rising order as a text, those that follow each other drawn together: `1 to 12, 15`.
 * @param numberText how one of them is written
 */
export function numbersText(numbers: readonly number[], numberText: (number: number) => string = String): string {
  const stretches: [first: number, last: number][] = [];
  for (const number of numbers) {
    const stretch = stretches.at(-1);
    if (stretch && number === stretch[1] + 1) stretch[1] = number;
    else stretches.push([number, number]);
  }
  return stretches
    .flatMap(([first, last]) => {
      if (last - first > 1) return [`${numberText(first)} to ${numberText(last)}`];
      return first === last ? [numberText(first)] : [numberText(first), numberText(last)];
    })
    .join(', ');
}
