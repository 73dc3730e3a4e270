/** Counts up with every change of what stands below: a record with another number gets these tables anew, made from its entries. */
export const RUN_TABLES_VERSION = 4;

/** Written for each of these alone, so that a reading stays one insert. A view finds by it only where it says the very same. */
const BESIDE_READINGS =
  "json_extract(event, '$.type') NOT IN ('reading-taken', 'position-said', 'continuity-point-read')";

/**
 * What is made of the entries, so that lots are found without going over readings: a row for each run as it stands, and the
 * readings that do not count any more. Nothing is decided by it: whoever needs a run itself folds its entries. And the views
 * that others may read (README.md documents them). Dropped and made anew, empty.
 */
export const RUN_TABLES = `
  DROP VIEW IF EXISTS dispositions;
  DROP VIEW IF EXISTS readings;
  DROP VIEW IF EXISTS lots;
  DROP VIEW IF EXISTS continuity_runs;
  DROP TABLE IF EXISTS continuity_run;
  DROP TABLE IF EXISTS withdrawn;
  DROP TABLE IF EXISTS run;
  DROP INDEX IF EXISTS entry_beside_readings;

  CREATE INDEX entry_beside_readings ON entry (run, position) WHERE ${BESIDE_READINGS};

  CREATE TABLE run (
    run                INTEGER PRIMARY KEY,
    up_to              INTEGER NOT NULL,
    received_at        TEXT NOT NULL,
    received_ms        INTEGER NOT NULL,
    part               TEXT NOT NULL,
    description        TEXT NOT NULL,
    supplier           TEXT NOT NULL,
    lot                TEXT NOT NULL,
    reel               TEXT NOT NULL,
    inspector          TEXT NOT NULL,
    nominal_ohms       REAL,
    lower_ohms         REAL,
    upper_ohms         REAL,
    lot_size           INTEGER NOT NULL,
    sample_size        INTEGER NOT NULL,
    counted            INTEGER NOT NULL,
    nonconforming      INTEGER NOT NULL,
    voided             INTEGER NOT NULL,
    suspect            INTEGER NOT NULL,
    step               TEXT NOT NULL,
    outlook            TEXT NOT NULL,
    disposition        TEXT,
    decided_at         TEXT,
    decided_by         TEXT,
    reason             TEXT,
    approved_by        TEXT,
    offered_again_after INTEGER,
    severity           TEXT,
    study              INTEGER NOT NULL,
    practice           INTEGER NOT NULL,
    certificates       INTEGER NOT NULL,
    values_counted     INTEGER,
    left_out           INTEGER,
    mean_ohms          REAL,
    sd_ohms            REAL,
    lowest_ohms        REAL,
    highest_ohms       REAL,
    ppk                REAL,
    outcome            TEXT,
    practised          TEXT,
    search             TEXT NOT NULL
  ) STRICT;
  CREATE INDEX run_of_part ON run (part, supplier, received_ms);
  CREATE INDEX run_of_supplier ON run (supplier, received_ms);
  CREATE INDEX run_of_lot ON run (lot, received_ms);
  CREATE INDEX run_of_time ON run (received_ms);
  CREATE INDEX run_of_disposition ON run (disposition, received_ms);
  CREATE INDEX run_of_inspector ON run (inspector, received_ms);
  CREATE INDEX run_practised ON run (run) WHERE practised IS NOT NULL;

  CREATE TABLE continuity_run (
    run             INTEGER PRIMARY KEY,
    up_to           INTEGER NOT NULL,
    received_at     TEXT NOT NULL,
    received_ms     INTEGER NOT NULL,
    title           TEXT NOT NULL,
    drawing         TEXT NOT NULL,
    serial          TEXT NOT NULL,
    inspector       TEXT NOT NULL,
    points          INTEGER NOT NULL,
    as_expected     INTEGER NOT NULL,
    not_as_expected INTEGER NOT NULL,
    cannot_tell     INTEGER NOT NULL,
    skipped         INTEGER NOT NULL,
    step            TEXT NOT NULL,
    disposition     TEXT,
    decided_at      TEXT,
    decided_by      TEXT,
    reason          TEXT,
    approved_by     TEXT,
    certificates    INTEGER NOT NULL,
    practice        INTEGER NOT NULL,
    search          TEXT NOT NULL
  ) STRICT;
  CREATE INDEX continuity_run_of_time ON continuity_run (received_ms);

  CREATE TABLE withdrawn (
    run     INTEGER NOT NULL,
    reading INTEGER NOT NULL,
    how     TEXT NOT NULL CHECK (how IN ('void', 'suspect')),
    why     TEXT NOT NULL,
    by      TEXT,
    at      TEXT NOT NULL,
    PRIMARY KEY (run, reading)
  ) STRICT, WITHOUT ROWID;

  CREATE VIEW continuity_runs AS
    SELECT run, received_at, title, drawing, serial, inspector, points, as_expected, not_as_expected, cannot_tell, skipped, step,
           disposition, decided_at, decided_by, reason, approved_by, certificates, practice
    FROM continuity_run;

  CREATE VIEW lots AS
    SELECT run, received_at, part, description, supplier, lot, reel, inspector, nominal_ohms, lower_ohms, upper_ohms,
           lot_size, sample_size, counted, nonconforming, voided, suspect, step, outlook, disposition, decided_at,
           decided_by, reason, approved_by, offered_again_after, severity, certificates, values_counted, left_out, mean_ohms, sd_ohms, lowest_ohms, highest_ohms,
           ppk, practice
    FROM run WHERE study = 0;

  CREATE VIEW readings AS
    SELECT s.run AS run,
           e.position AS entry,
           json_extract(e.event, '$.reading') AS reading,
           json_extract(e.event, '$.at') AS at,
           json_extract(e.event, '$.piece') AS piece,
           json_extract(e.event, '$.position') AS reel_position,
           json_extract(e.event, '$.raw') AS meter_text,
           CAST(json_extract(e.event, '$.ohms') AS REAL) AS ohms,
           json_extract(e.event, '$.ohms') AS exact_ohms,
           CAST(json_extract(e.event, '$.uncertainty.expandedOhms') AS REAL) AS expanded_uncertainty_ohms,
           json_extract(e.event, '$.verdict') AS verdict,
           w.how AS withdrawn,
           w.why AS withdrawn_why
    FROM stretch s
    JOIN entry e ON e.position >= s.first
      AND e.position < coalesce((SELECT min(n.first) FROM stretch n WHERE n.first > s.first), 9223372036854775807)
    LEFT JOIN withdrawn w ON w.run = s.run AND w.reading = json_extract(e.event, '$.reading')
    WHERE json_extract(e.event, '$.type') = 'reading-taken';

  CREATE VIEW dispositions AS
    SELECT e.run,
           e.position AS entry,
           json_extract(e.event, '$.type') AS what,
           json_extract(e.event, '$.at') AS at,
           json_extract(e.event, '$.by') AS by,
           json_extract(e.event, '$.disposition') AS disposition,
           json_extract(e.event, '$.reason') AS reason,
           json_extract(e.event, '$.approvedBy') AS approved_by
    FROM entry e
    WHERE ${BESIDE_READINGS.replace('event', 'e.event')}
      AND json_extract(e.event, '$.type') IN ('lot-decided', 'hold-lifted', 'decision-corrected');
`;
