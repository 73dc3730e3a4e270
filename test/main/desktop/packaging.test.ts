import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '../../..');
// electron-builder's own parts, as it resolves them itself.
const builder = createRequire(createRequire(join(root, 'package.json')).resolve('electron-builder'));
const library = createRequire(builder.resolve('app-builder-lib'));
const { load } = library('js-yaml') as { load(text: string): Record<string, unknown> };

test('electron-builder takes the configuration, the fuses are set and the native binaries stay in', async () => {
  const config = load(readFileSync(join(root, 'electron-builder.yml'), 'utf8'));
  const { validateConfiguration } = library('app-builder-lib/out/util/config/config') as {
    validateConfiguration(config: object, log: object): Promise<void>;
  };
  await validateConfiguration(config, { isEnabled: false });
  await expect(validateConfiguration({ ...config, noSuchOption: 1 }, { isEnabled: false })).rejects.toThrow(
    'noSuchOption',
  );
  expect(config).toMatchObject({
    appId: 'dev.reelohm.station',
    asar: true,
    asarUnpack: ['**/*.node'],
    npmRebuild: false,
    electronFuses: {
      runAsNode: false,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      grantFileProtocolExtraPrivileges: false,
    },
  });
  const { minimatch } = library('minimatch') as { minimatch(path: string, pattern: string): boolean };
  const left = (config.files as string[])
    .filter((pattern) => pattern.startsWith('!'))
    .map((pattern) => pattern.slice(1));
  for (const native of ['better-sqlite3', '@serialport/bindings-cpp']) {
    const folder = `node_modules/${native}/prebuilds`;
    const files = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' });
    const binaries = files
      .filter((name) => name.endsWith('.node'))
      .map((name) => `${folder}/${name.replaceAll('\\', '/')}`);
    expect(binaries.length).toBeGreaterThan(0);
    expect(binaries.filter((binary) => left.some((pattern) => minimatch(binary, pattern)))).toEqual([]);
  }
});
