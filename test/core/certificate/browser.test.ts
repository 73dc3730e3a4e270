import { fileURLToPath } from 'node:url';
import { createContext, runInContext } from 'node:vm';
import { build } from 'vite';
import { expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import { acceptedRun, certificateBytes } from './files.ts';

it('a certificate is verified by the browser bundle too, without anything of Node', { timeout: 60_000 }, async () => {
  const entry = fileURLToPath(new URL('../../../core/certificate/verify.ts', import.meta.url));
  const built = await build({
    configFile: false,
    logLevel: 'warn',
    // Minified, since the comments of libraries show how they are required in Node.
    build: { write: false, minify: true, lib: { entry, formats: ['iife'], name: 'bundle', fileName: 'bundle' } },
  });
  const [output] = Array.isArray(built) ? built : [];
  const code = output?.output[0].code ?? '';
  expect(code).not.toMatch(/__vite-browser-external|require\(|from ["']node:/);

  // Of what a browser has beside the language the bundle may use these.
  const bytes = certificateBytes(acceptedRun());
  const page = createContext({ TextEncoder, TextDecoder, bytes: [...bytes] });
  const found = runInContext(`${code}; JSON.stringify(bundle.verifyCertificate(new Uint8Array(bytes)))`, page);
  expect(JSON.parse(found)).toEqual(verifyCertificate(bytes));
  const broken = `${code}; try { bundle.verifyCertificate(new Uint8Array(bytes.slice(1))) } catch (e) { e.code }`;
  expect(runInContext(broken, page)).toBe('certificate-broken');
});
