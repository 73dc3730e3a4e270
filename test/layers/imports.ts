import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { parseSync } from 'oxc-parser';

/** Who may import whom, besides themselves. `test` and the config files at the top may import anything. */
export const LAYERS: Record<string, readonly string[]> = {
  core: [],
  instruments: ['core'],
  main: ['core', 'instruments'],
  renderer: ['core'],
};

/** Every file a source imports by a relative path: static, dynamic, type-only and re-exports alike. */
export function importsOf(file: string): string[] {
  const { module, errors } = parseSync(file, readFileSync(file, 'utf8'));
  if (errors.length > 0) throw new Error(`${file} could not be parsed: ${errors[0]?.message}`);
  const text = readFileSync(file, 'utf8');
  const specifiers = [
    ...module.staticImports.map((found) => found.moduleRequest.value),
    ...module.staticExports.flatMap((found) => found.entries.flatMap((entry) => entry.moduleRequest?.value ?? [])),
    ...module.dynamicImports.map(({ moduleRequest }) =>
      text.slice(moduleRequest.start, moduleRequest.end).replace(/^['"`]|['"`]$/g, ''),
    ),
  ];
  return [...new Set(specifiers)]
    .filter((specifier) => specifier.startsWith('.'))
    .map((specifier) => join(dirname(file), specifier.replace(/\?.*$/, '')))
    .filter((target) => existsSync(target) && /\.(ts|tsx|js)$/.test(target));
}

/** All sources below a folder. */
export function sourcesBelow(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter(
      (entry) => entry.isFile() && /\.(ts|tsx|js)$/.test(entry.name) && !entry.parentPath.includes('node_modules'),
    )
    .map((entry) => join(entry.parentPath, entry.name));
}

/**
 * Follows all imports of every layer, transitively and through files outside the layers, and returns each chain that
 * ends in a layer its first file may not reach, like `core/a.ts -> bridge.ts -> main/b.ts`.
 */
export function violations(root: string): string[] {
  const found: string[] = [];
  for (const [layer, allowed] of Object.entries(LAYERS)) {
    const reachable = new Set([layer, ...allowed]);
    const seen = new Set<string>();
    const follow = (file: string, chain: readonly string[]): void => {
      const at = relative(root, file).split(sep).join('/');
      const there = [...chain, at];
      const where = at.split('/')[0] ?? '';
      if (where in LAYERS && !reachable.has(where)) {
        found.push(there.join(' -> '));
        return;
      }
      if (seen.has(file)) return;
      seen.add(file);
      for (const next of importsOf(file)) follow(next, there);
    };
    for (const file of sourcesBelow(join(root, layer))) follow(file, []);
  }
  return found;
}
