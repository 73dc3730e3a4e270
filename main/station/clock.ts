import { format } from 'date-fns/format';

/** The time now in ISO 8601 with milliseconds and this computer's offset, like `2026-03-02T14:05:09.120+01:00`. */
export function now(): string {
  return format(new Date(), "yyyy-MM-dd'T'HH:mm:ss.SSSxxx");
}
