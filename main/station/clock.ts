/** The time now in ISO 8601 with milliseconds and this computer's offset, like `2026-03-02T14:05:09.120+01:00`. */
export function now(): string {
  const time = new Date();
  const offsetMinutes = -time.getTimezoneOffset();
  const local = new Date(time.getTime() + offsetMinutes * 60_000).toISOString();
  return local.replace('Z', offsetText(offsetMinutes));
}

function offsetText(minutes: number): string {
  const twoDigits = (number: number) => String(number).padStart(2, '0');
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${twoDigits(Math.floor(size / 60))}:${twoDigits(size % 60)}`;
}
