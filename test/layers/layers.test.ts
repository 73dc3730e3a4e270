import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { LAYERS, sourcesBelow, violations } from './imports.ts';

const ROOT = join(import.meta.dirname, '../..');
const planted: string[] = [];
afterEach(() => {
  for (const folder of planted.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A small project with these files. */
function project(files: Record<string, string>): string {
  const folder = mkdtempSync(join(tmpdir(), 'layers-'));
  planted.push(folder);
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  return folder;
}

/** Every pair of layers where the first may not import the second. */
const FORBIDDEN = Object.entries(LAYERS).flatMap(([from, allowed]) =>
  Object.keys(LAYERS)
    .filter((to) => to !== from && !allowed.includes(to))
    .map((to) => [from, to] as const),
);

/** Imports as they may be written; all of them count. */
const WAYS = {
  value: "import { b } from 'X'; export const a = b;",
  type: "import type { b } from 'X'; export type A = typeof b;",
  're-export': "export { b } from 'X';",
  dynamic: "export const a = () => import('X');",
};

describe('the layer rule', () => {
  it('holds in this project, and something was looked at', () => {
    for (const layer of Object.keys(LAYERS)) expect(sourcesBelow(join(ROOT, layer)).length, layer).toBeGreaterThan(3);
    expect(violations(ROOT)).toEqual([]);
  });

  it.each(FORBIDDEN)('catches %s importing %s, however it is written', (from, to) => {
    for (const [way, text] of Object.entries(WAYS)) {
      const folder = project({
        [`${from}/a.ts`]: text.replace('X', `../${to}/b.ts`),
        [`${to}/b.ts`]: 'export const b = 1;',
      });
      expect(violations(folder), way).toEqual([`${from}/a.ts -> ${to}/b.ts`]);
    }
  });

  it.each(FORBIDDEN)('catches %s reaching %s through files outside the layers', (from, to) => {
    const folder = project({
      [`${from}/deep/a.ts`]: "import { b } from '../../bridge.ts'; export const a = b;",
      'bridge.ts': "export { b } from './further/bridge.ts';",
      'further/bridge.ts': `export { b } from '../${to}/b.ts';`,
      [`${to}/b.ts`]: 'export const b = 1;',
    });
    expect(violations(folder)).toEqual([`${from}/deep/a.ts -> bridge.ts -> further/bridge.ts -> ${to}/b.ts`]);
  });

  it('lets allowed imports be', () => {
    const files: Record<string, string> = {};
    for (const [from, allowed] of Object.entries(LAYERS)) {
      files[`${from}/b.ts`] = 'export const b = 1;';
      files[`${from}/a.ts`] = allowed.map((to) => `export * as ${to} from '../${to}/b.ts';`).join('\n');
    }
    expect(violations(project(files))).toEqual([]);
  });

  it.each(FORBIDDEN)('is held by the lint rule too: %s importing %s', (from, to) => {
    const folder = project({
      [`${from}/a.ts`]: `import { b } from '../${to}/b.ts';\n\nexport const a = b;\n`,
      [`${to}/b.ts`]: 'export const b = 1;\n',
    });
    cpSync(join(ROOT, 'biome.json'), join(folder, 'biome.json'));
    symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
    let said = '';
    try {
      execFileSync(
        process.execPath,
        [join(ROOT, 'node_modules/@biomejs/biome/bin/biome'), 'lint', '--max-diagnostics=none', from],
        {
          cwd: folder,
          encoding: 'utf8',
          stdio: 'pipe',
        },
      );
    } catch (failed) {
      said = String((failed as { stderr: unknown }).stderr) + String((failed as { stdout: unknown }).stdout);
    }
    expect(said).toContain('noRestrictedImports');
  });
});

describe('core', () => {
  it('has no clock and no randomness that is not passed in', () => {
    for (const file of sourcesBelow(join(ROOT, 'core'))) {
      expect(readFileSync(file, 'utf8'), file).not.toMatch(
        /\bMath\.random\b|\bDate\.now\b|\bnew Date\(\)|\bperformance\.now\b/,
      );
    }
  });
});
