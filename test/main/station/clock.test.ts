import { expect, it } from 'vitest';
import * as z from 'zod';
import { now } from '../../../main/station/clock.ts';

it.each(['UTC', 'Asia/Kathmandu', 'America/St_Johns'])('says the time with the offset of %s', (zone) => {
  const before = process.env.TZ;
  process.env.TZ = zone;
  try {
    const said = now();
    expect(z.iso.datetime({ offset: true }).safeParse(said).success).toBe(true);
    expect(Math.abs(Date.parse(said) - Date.now())).toBeLessThan(1000);
    // RFC 3339 section 5.6; offsets from the IANA time zone database.
    const expected = { UTC: /\+00:00$/, 'Asia/Kathmandu': /\+05:45$/, 'America/St_Johns': /-0[23]:30$/ }[zone];
    expect(said).toMatch(expected ?? /never/);
  } finally {
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
  }
});
