import type { Migration } from './migration.ts';

/** Entries with their hashes as text in hex. */
export const toVersion1: Migration = {
  to: 1,
  steps(database) {
    database.exec(`
      CREATE TABLE entry (
        position INTEGER PRIMARY KEY,
        run      INTEGER NOT NULL,
        event    TEXT NOT NULL,
        previous TEXT NOT NULL,
        hash     TEXT NOT NULL
      ) STRICT;
      CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
      CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
    `);
    return [];
  },
};
