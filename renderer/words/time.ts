const DAY_AND_TIME = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

const SHORT = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

/** The same without the year, where the year stands nearby. */
export function formatShortTime(at: string): string {
  return SHORT.format(new Date(at));
}

/** A point in time (ISO 8601) in this computer's own time, like `2 Mar 2026, 14:05`. */
export function formatTime(at: string): string {
  return DAY_AND_TIME.format(new Date(at));
}
