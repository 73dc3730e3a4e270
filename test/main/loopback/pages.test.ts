import { rmSync } from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { serveLoopback } from '../../../main/loopback/serveLoopback.ts';
import { echoStation, OUTSIDE, screenFolder, servedDoor } from './servedDoor.ts';

test('without the key there is no page, only a line that says what to do', async () => {
  const { get } = await servedDoor();
  for (const path of ['/', '/index.html', '/assets/screen-a1b2.js', '/nothing', '/?key=', '/?key=guess']) {
    const { status, body, headers } = await get(path);
    expect([path, status]).toEqual([path, 403]);
    expect(body).toMatch(/^Open the start address that the station printed.*\n$/);
    expect(headers['set-cookie']).toBeUndefined();
  }
});

test('the key is exchanged for a cookie that no script and no other site can use, and leaves the address', async () => {
  const { get, key, port, origin } = await servedDoor();
  expect(Buffer.from(key, 'base64url').length * 8).toBeGreaterThanOrEqual(128);
  const { status, headers } = await get(`/?key=${key}`);
  expect(status).toBe(303);
  expect(new URL(headers.location ?? '', origin).href).toBe(`${origin}/`);
  expect(headers['cache-control']).toBe('no-store');
  const [pair, ...flags] = (headers['set-cookie']?.[0] ?? '').split('; ');
  expect(flags.sort()).toEqual(['HttpOnly', 'Path=/', 'SameSite=Strict']);
  const [name, value] = (pair ?? '').split('=');
  expect(name).toContain(String(port));
  expect(value).not.toBe(key);
  expect(Buffer.from(value ?? '', 'base64url').length * 8).toBeGreaterThanOrEqual(128);

  const page = await get('/', { cookie: pair ?? '' });
  expect(page).toMatchObject({ status: 200, body: '<!doctype html><title>Screen</title>' });
  // What opens the door is no cookie, and the other way round.
  expect((await get('/', { cookie: `${name}=${key}` })).status).toBe(403);
  expect((await get(`/?key=${value}`)).status).toBe(403);
});

test('the printed address opens again, the one for the command line only once and not for long', async () => {
  const { door, get, key } = await servedDoor();
  expect((await get(`/?key=${key}`)).status).toBe(303);
  expect((await get(`/?key=${key}`)).status).toBe(303);

  const pathOf = (address: string): string => address.slice(address.indexOf('/?'));
  const once = pathOf(door.browserAddress());
  expect(once).not.toContain(key);
  expect((await get(once, {}, 'HEAD')).status).toBe(403);
  expect((await get(once)).status).toBe(303);
  expect((await get(once)).status).toBe(403);

  const late = pathOf(door.browserAddress());
  const start = performance.now();
  const clock = vi.spyOn(performance, 'now').mockImplementation(() => start + 61_000);
  expect((await get(late)).status).toBe(403);
  clock.mockRestore();
});

test("one station's cookie does not open another", async () => {
  const one = await servedDoor();
  const other = await servedDoor();
  expect((await other.get('/', { cookie: await one.letIn() })).status).toBe(403);
  expect((await other.get(`/?key=${one.key}`)).status).toBe(403);
});

test('only its own name is answered, so that a foreign name pointed at 127.0.0.1 gets nothing', async () => {
  const { get, letIn, port, key } = await servedDoor();
  const cookie = await letIn();
  for (const host of [
    'evil.example',
    `evil.example:${port}`,
    `localhost:${port}`,
    '127.0.0.1',
    `127.0.0.1:${port}.x`,
  ]) {
    const page = await get('/', { host, cookie });
    expect([host, page.status]).toEqual([host, 421]);
    expect(page.body).not.toContain('<title>');
    expect((await get(`/?key=${key}`, { host })).headers['set-cookie']).toBeUndefined();
  }
  expect((await get('http://evil.example/', { cookie })).status).toBe(404);
  expect((await get('//evil.example/', { cookie })).status).toBe(404);
});

test('another site may not ask, and nothing can be sent', async () => {
  const { get, letIn, origin } = await servedDoor();
  const cookie = await letIn();
  expect((await get('/', { cookie, origin: 'https://evil.example' })).status).toBe(403);
  expect((await get('/', { cookie, origin: 'null' })).status).toBe(403);
  expect((await get('/', { cookie, origin: 'https://evil.example' }, 'POST')).status).toBe(403);
  for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
    expect((await get('/', { cookie, origin }, method)).status).toBe(405);
  }
});

test('nothing outside the folder is served, however the path is written', async () => {
  const { get, letIn } = await servedDoor();
  const cookie = await letIn();
  const paths = [
    '/../secret.js',
    '/..%2fsecret.js',
    '/..%2Fsecret.js',
    '/%2e%2e/secret.js',
    '/%2e%2e%2fsecret.js',
    '/..\\secret.js',
    '/..%5csecret.js',
    '/assets/../../secret.js',
    '/assets/..%2f..%2fsecret.js',
    '/../screen-old/secret.js',
    '/..%2fscreen-old%2fsecret.js',
    '/%252e%252e%252fsecret.js',
    '/linked.js',
    '/.hidden.js',
    '/%2ehidden.js',
    '/notes.txt',
    '/assets',
    '/assets/',
    '/secret.js%00.html',
    '/%',
  ];
  for (const path of paths) {
    const { status, body } = await get(path, { cookie });
    expect([path, status]).toEqual([path, 404]);
    expect(body).not.toContain(OUTSIDE);
  }
});

test('every answer carries the policy, refused or not', async () => {
  const { get, letIn, port } = await servedDoor();
  const cookie = await letIn();
  const answers = [
    await get('/', { cookie }),
    await get('/assets/screen-a1b2.js', { cookie }),
    await get('/nothing', { cookie }),
    await get('/'),
    await get('/', { host: 'evil.example' }),
    await get('/', { cookie }, 'POST'),
  ];
  expect(answers.map(({ status }) => status)).toEqual([200, 200, 404, 403, 421, 405]);
  for (const { headers } of answers) {
    expect(headers['content-security-policy']).toBe(
      `default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data: blob:; connect-src 'self' ws://127.0.0.1:${port}; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`,
    );
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['referrer-policy']).toBe('no-referrer');
    expect(headers['cross-origin-opener-policy']).toBe('same-origin');
    expect(headers['cross-origin-resource-policy']).toBe('same-origin');
    expect(headers['access-control-allow-origin']).toBeUndefined();
  }
});

test('types and caching fit the file', async () => {
  const { get, letIn } = await servedDoor();
  const cookie = await letIn();
  const page = (await get('/', { cookie })).headers;
  expect([page['content-type'], page['cache-control']]).toEqual(['text/html; charset=utf-8', 'no-store']);
  const script = (await get('/assets/screen-a1b2.js', { cookie })).headers;
  expect(script['content-type']).toBe('text/javascript; charset=utf-8');
  expect(script['cache-control']).toContain('immutable');
  const head = await get('/', { cookie }, 'HEAD');
  expect([head.status, head.body, head.headers['content-length']]).toEqual([200, '', page['content-length']]);
});

test('a screen folder that goes away, or a senseless range, does not disturb a running station', async () => {
  const rendererFolder = screenFolder();
  const { get, letIn } = await servedDoor({ rendererFolder });
  const cookie = await letIn();
  rmSync(join(rendererFolder, 'assets'), { recursive: true });
  expect((await get('/assets/screen-a1b2.js', { cookie, range: 'bytes=4-2' })).body).toBe('export {};');
});

test('it listens on 127.0.0.1 and nowhere else', async () => {
  const { port, door } = await servedDoor();
  expect(new URL(door.address).hostname).toBe('127.0.0.1');
  const others = Object.values(networkInterfaces()).flatMap((list) => (list ?? []).map(({ address }) => address));
  const addresses = ['::1', ...others.filter((address) => address !== '127.0.0.1')];
  // All of 127/8 reaches this machine on Linux.
  if (process.platform === 'linux') addresses.push('127.0.0.2');
  for (const host of addresses) {
    const outcome = await new Promise((resolve) => {
      const socket = connect({ host, port });
      socket.once('connect', () => resolve('connected')).once('error', () => resolve('refused'));
      socket.once('close', () => socket.destroy());
    });
    expect([host, outcome]).toEqual([host, 'refused']);
  }
});

test('a port that is taken and a screen that was not built are said in one line', async () => {
  const { port } = await servedDoor();
  const station = echoStation();
  await expect(serveLoopback({ station, rendererFolder: screenFolder(), port })).rejects.toMatchObject({
    code: 'loopback-unavailable',
    message: expect.stringContaining(String(port)),
  });
  const rendererFolder = join(tmpdir(), 'no-such-screen');
  await expect(serveLoopback({ station, rendererFolder })).rejects.toMatchObject({ code: 'file-unreadable' });
  expect(station.listeners()).toBe(0);
});
