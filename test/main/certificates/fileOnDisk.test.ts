import { execFileSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { withFileOnDisk } from '../../../main/certificates/fileOnDisk.ts';
import { problemOf } from '../../openedStation.ts';
import { temporaryFolder } from '../../temporaryFolder.ts';

it('bytes of a file are those asked for', () => {
  const file = join(temporaryFolder(), 'a');
  writeFileSync(file, Buffer.from(Array.from({ length: 200_000 }, (_, place) => place % 251)));
  withFileOnDisk(file, ({ size, slice }) => {
    expect(size).toBe(200_000);
    expect([...slice(251, 255)]).toEqual([0, 1, 2, 3]);
    expect(slice(0, size)).toHaveLength(size);
  });
});

it('what has no end is refused, and a folder', async () => {
  const asked = async (file: string) => withFileOnDisk(file, ({ size }) => size);
  // A device that gives zeros for ever.
  if (existsSync('/dev/zero')) expect(await problemOf(asked('/dev/zero'))).toBe('file-unreadable');
  else console.warn('not tried: this system has no /dev/zero');
  expect(await problemOf(asked(temporaryFolder()))).toBe('file-unreadable');
});

it('a pipe is read as a whole', () => {
  if (process.platform === 'win32') {
    console.warn('not tried: there is no /dev/stdin here');
    return;
  }
  const source = join(temporaryFolder(), 'source');
  writeFileSync(source, 'x'.repeat(150_000));
  const module = join(import.meta.dirname, '../../../main/certificates/fileOnDisk.ts');
  const script = `import { withFileOnDisk } from '${module}';
    console.log(withFileOnDisk('/dev/stdin', ({ size }) => size))`;
  const command = 'cat "$1" | "$2" --input-type=module --eval "$3"';
  expect(execFileSync('sh', ['-c', command, 'sh', source, process.execPath, script], { encoding: 'utf8' })).toBe(
    '150000\n',
  );
});
