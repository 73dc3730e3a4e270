import { describe, expect, it } from 'vitest';
import { nameSafely } from '../../../main/certificates/writeUnderFreeName.ts';

/** Most bytes of a name on common file systems (NAME_MAX of Linux, limits.h; ext4, APFS and NTFS are no longer by their characters). */
const NAME_MAX = 255;
const BEHIND = '-run-4294967296-decimal-comma-1000.csv-metadata.json';

describe('a name for a file', () => {
  it.each(['é', '抵', '𠮷', 'x'])(
    'of 200 times %s is no longer than a file system takes, in whole characters',
    (character) => {
      const name = nameSafely(`1${character.repeat(199)}`, 'lot');
      expect(Buffer.byteLength(name + BEHIND)).toBeLessThanOrEqual(NAME_MAX);
      expect(name.length).toBeGreaterThan(40);
      expect(name.isWellFormed()).toBe(true);
      expect(() => encodeURIComponent(name)).not.toThrow();
    },
  );

  it('leads nowhere else and is hidden nowhere', () => {
    expect(nameSafely('../../etc/passwd', 'lot')).toBe('etc_passwd');
    expect(nameSafely('C:\\lots\\7|*?', 'lot')).toBe('C_lots_7');
    expect(nameSafely('.hidden', 'lot')).toBe('hidden');
    expect(nameSafely('...', 'lot')).toBe('lot');
  });
});
