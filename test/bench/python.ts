import { spawnSync } from 'node:child_process';

/** A Python that has these modules; null, said aloud, where there is none. */
export function pythonWith(modules: string, debianPackage: string): string | null {
  const found = ['python3', '/usr/bin/python3'].find(
    (python) => spawnSync(python, ['-c', `import ${modules}`]).status === 0,
  );
  if (!found) console.log(`SKIPPED: the peer in Python, because none here has ${modules} (Debian: ${debianPackage})`);
  return found ?? null;
}
