/** The time now in ISO 8601 with milliseconds and this computer's offset, like `2026-03-02T14:05:09.120+01:00`. */
export function now(): string {
  const time = new Date();
  const offset = -time.getTimezoneOffset();
  const local = new Date(time.getTime() + offset * 60_000).toISOString().slice(0, -1);
  const [hours, minutes] = [Math.floor(Math.abs(offset) / 60), Math.abs(offset) % 60];
  return `${local}${offset < 0 ? '-' : '+'}${String(hours).padStart(2, '0')}:${String(minutes).padStart(2, '0')}`;
}
