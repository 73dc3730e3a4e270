const DAY_AND_TIME = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** A point in time (ISO 8601) in this computer's own time, like `2 Mar 2026, 14:05`. */
export function formatTime(at: string): string {
  return DAY_AND_TIME.format(new Date(at));
}
