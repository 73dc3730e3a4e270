/** Whether two names are of one person: without case, blanks and dots. There are no accounts here to prove more. */
export function sameName(one: string, other: string): boolean {
  return plain(one) === plain(other);
}

function plain(name: string): string {
  return name
    .normalize('NFKC')
    .replace(/[\s.]+/gu, '')
    .toLowerCase();
}
