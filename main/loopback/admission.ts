import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { parseCookie, stringifySetCookie } from 'cookie';

/** How long the address handed to a browser may be used, in milliseconds. */
const TICKET_MILLISECONDS = 60_000;

/** Who may come in by the loopback door. */
export interface Admission {
  /** The key of the printed start address. */
  readonly key: string;
  /** A key that works once, within a minute. */
  ticket(): string;
  /** Whether this key opens the door; a ticket is used up by it. */
  opens(key: string): boolean;
  /** The Set-Cookie header that marks a browser as let in. */
  readonly setCookie: string;
  /** Whether a Cookie header shows that the browser was let in. */
  admits(cookieHeader: string | undefined): boolean;
}

/**
 * The secrets of one loopback door, 256 bits each, new at every start.
 *
 * The printed key may be used again and again while the station runs: whoever can read the terminal may open the
 * station, and a browser that was closed gets in with the same line. What is handed to a browser on its command line
 * is a ticket instead, because other users of the computer can read command lines: it works once and not for long.
 *
 * Browsers send a cookie to every port of a host. So the cookie's name carries the port, lest two stations throw each
 * other out, and its value is no key, lest another local server that sees it could print itself a start address.
 * It has no `Secure`: the door speaks plain HTTP, and not every browser takes 127.0.0.1 for secure.
 */
export function createAdmission(port: number): Admission {
  const key = secret();
  const session = secret();
  const cookieName = `reelohm-${port}`;
  const tickets = new Map<string, number>();

  return {
    key,
    ticket() {
      const ticket = secret();
      tickets.set(digest(ticket).toString('hex'), performance.now() + TICKET_MILLISECONDS);
      return ticket;
    },
    opens(offered) {
      if (same(offered, key)) return true;
      // Found by digest, so that the time a look-up takes says nothing about the ticket.
      const name = digest(offered).toString('hex');
      const until = tickets.get(name);
      tickets.delete(name);
      return until !== undefined && performance.now() < until;
    },
    setCookie: stringifySetCookie({
      name: cookieName,
      value: session,
      httpOnly: true,
      sameSite: 'strict',
      path: '/',
    }),
    admits(cookieHeader) {
      const offered = parseCookie(cookieHeader ?? '')[cookieName];
      return offered !== undefined && same(offered, session);
    },
  };
}

function secret(): string {
  return randomBytes(32).toString('base64url');
}

function digest(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}

/** Compares in a time that does not depend on where the two differ. */
function same(offered: string, kept: string): boolean {
  return timingSafeEqual(digest(offered), digest(kept));
}
