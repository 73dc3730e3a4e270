/**
 * The headers a door puts on everything it serves. The policy lets the page load only what lies beside it, run no
 * inline script and talk to nobody but its own station.
 * @param connect what else than its own origin the page may connect to, such as the address of a WebSocket
 */
export function pageHeaders(connect = ''): Record<string, string> {
  const policy = [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "font-src 'self'",
    "img-src 'self' data: blob:",
    `connect-src 'self' ${connect}`.trimEnd(),
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ];
  return {
    'Content-Security-Policy': policy.join('; '),
    'X-Content-Type-Options': 'nosniff',
    'Referrer-Policy': 'no-referrer',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
  };
}
