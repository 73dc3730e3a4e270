const DAY_AND_TIME = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
const DAY = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium' });
const TIME = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short' });

/** A point in time after another that stands nearby: the day is left out where it is the same. */
export function formatLater(at: string, earlier: string): string {
  const [date, before] = [new Date(at), new Date(earlier)];
  return DAY.format(date) === DAY.format(before) ? TIME.format(date) : DAY_AND_TIME.format(date);
}

/** A point in time (ISO 8601) in this computer's own time, like `2 Mar 2026, 14:05`. */
export function formatTime(at: string): string {
  return DAY_AND_TIME.format(new Date(at));
}

/** The day of a point in time (milliseconds since 1970) in this computer's own time, like `2 Mar 2026`. */
export function formatDay(ms: number): string {
  return DAY.format(ms);
}

/** A text with the points in time in it (ISO 8601 with offset) as {@link formatTime} writes them. */
export function withTimes(text: string): string {
  return text.replace(/\d{4}-\d\d-\d\dT[\d:.]+(?:Z|[+-]\d\d:\d\d)/g, (at) => formatTime(at));
}

/** Today where this computer stands, as a calendar day like `2026-11-25`. */
export function today(): string {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}
