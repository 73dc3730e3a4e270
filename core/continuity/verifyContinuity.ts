import * as z from 'zod';
import { BrokenFile } from '../certificate/brokenFile.ts';
import type { FileBytes } from '../certificate/fileBytes.ts';
import { publicKeyIn } from '../certificate/signature.ts';
import { DIGEST_FITS, signatureWords, verifyClosed } from '../certificate/verifyClosed.ts';
import { meterFacts } from '../inspection/event.ts';
import { Problem, problem } from '../problem/problem.ts';
import type { TellProgress } from '../progress/progress.ts';
import { decimalText } from '../quantity/decimal.ts';
import { applyContinuity } from './apply.ts';
import { allPoints } from './continuityClaim.ts';
import { type ContinuityRecord, continuityRows } from './continuityFile.ts';
import {
  CONTINUITY_CLOSED,
  CONTINUITY_FORMAT,
  type ContinuityColumn,
  continuityCell,
  continuityCells,
} from './continuityFormat.ts';
import { type ContinuityRun, continuityTally } from './continuityRun.ts';
import { CROSS_CHOICES } from './crossPairs.ts';
import { type ContinuityCommand, decideContinuity } from './decide.ts';
import { continuityDisposition, READ_BY } from './event.ts';
import { LEAD_CHECKS, leadShown } from './leadCheck.ts';
import { limitFault, mustBeLimits } from './limits.ts';
import { contradictionsIn } from './nets.ts';
import { EXPECTED, type ListedPoint } from './point.ts';

/** What an intact certificate of a continuity run says. */
export interface VerifiedContinuity {
  record: ContinuityRecord;
  /** SHA-256 (hex) of the whole file. */
  sha256: string;
  /** The public key that signed it, 64 characters of hex. */
  publicKey: string;
  /** What was checked and worked out anew, in words for the person. */
  checked: string[];
}

const HEADER = [
  'format',
  'program version',
  'key',
  'written at',
  'run',
  'inspector',
  'title',
  'drawing',
  'serial',
  'received at',
  'cross-connections',
  'closed below',
  'open above',
  'leads checked after readings',
] as const;
type Header = (typeof HEADER)[number];

/**
 * Checks the certificate of a continuity run: that no byte was changed since it was written, that every check, verdict, net and cell
 * of the matrix follows from the list and the meter's texts, all replayed through `decide` and `apply`, and that the key it names
 * signed it.
 * @throws problem continuity-broken, naming the first row and column that differ, else the digest or the signature
 */
export function verifyContinuity(file: FileBytes | Uint8Array, tell?: TellProgress): VerifiedContinuity {
  const { found, sha256, publicKey } = verifyClosed(
    file,
    CONTINUITY_CLOSED,
    (rows) => {
      const record = readRecord([...rows].map((cells, index) => new Row(cells, index + 2)));
      return { found: record, publicKey: record.publicKey, rows: continuityRows(record).map(continuityCells) };
    },
    tell,
  );
  return { record: found, sha256, publicKey, checked: wordsFor(found.run, publicKey) };
}

/** One row of the file, read cell by cell. Every refusal names the row. */
class Row {
  readonly #cells: readonly string[];
  readonly #number: number;

  constructor(cells: readonly string[], number: number) {
    this.#cells = cells;
    this.#number = number;
  }

  value(column: ContinuityColumn): string {
    return continuityCell(this.#cells, column);
  }

  oneOf<T extends string>(column: ContinuityColumn, known: readonly T[]): T {
    const found = known.find((word) => word === this.value(column));
    if (found === undefined) throw this.broken(`${column} is "${this.value(column)}" instead of ${known.join(' or ')}`);
    return found;
  }

  whole(column: ContinuityColumn): number {
    const value = this.value(column);
    if (!/^\d{1,9}$/.test(value)) throw this.broken(`${column} is "${value}" instead of a whole number`);
    return Number(value);
  }

  decimal(column: ContinuityColumn): string {
    const value = this.value(column);
    if (!decimalText.safeParse(value).success) throw this.broken(`${column} is "${value}" instead of a plain decimal`);
    return value;
  }

  time(value = this.value('at')): string {
    if (!z.iso.datetime({ offset: true }).safeParse(value).success) {
      throw this.broken(`"${value}" is no time in ISO 8601 with offset`);
    }
    return value;
  }

  facts<T>(schema: z.ZodType<T>): T {
    try {
      return schema.parse(JSON.parse(this.value('facts')));
    } catch {
      throw this.broken('facts are not what must stand there');
    }
  }

  /** Does something with this row's facts; a problem it meets is a fault of this row. */
  holds<T>(compute: () => T): T {
    try {
      return compute();
    } catch (thrown) {
      if (thrown instanceof Problem && !(thrown instanceof BrokenFile)) throw this.broken(thrown.what);
      throw thrown;
    }
  }

  broken(why: string): BrokenFile {
    return new BrokenFile(problem('continuity-broken', `row ${this.#number}`, why), this.#number);
  }
}

/** Reads back what was put in; everything else is worked out anew. */
function readRecord(rows: readonly Row[]): ContinuityRecord {
  const header = {} as Record<Header, Row>;
  for (const [index, item] of HEADER.entries()) {
    const row = rows[index] ?? new Row([], index + 2);
    if (row.value('row') !== 'continuity' || row.value('item') !== item) {
      throw row.broken(`"continuity, ${item}" must stand here`);
    }
    header[item] = row;
  }
  const text = (item: Header) => header[item].value('text');
  if (text('format') !== CONTINUITY_FORMAT) throw header.format.broken(`the format is not "${CONTINUITY_FORMAT}"`);
  const publicKey = publicKeyIn(text('key'));
  if (publicKey === null) throw header.key.broken('it names no Ed25519 key by its fingerprint');
  const at = header['written at'].time(text('written at'));
  return {
    version: text('program version'),
    publicKey,
    at,
    number: header.run.whole('text'),
    run: readRun(header, rows),
  };
}

function readRun(header: Record<Header, Row>, rows: readonly Row[]): ContinuityRun {
  const text = (item: Header) => header[item].value('text');
  const cross = header['cross-connections'].oneOf('text', CROSS_CHOICES);
  const limits = {
    closedBelowOhms: header['closed below'].decimal('limit_ohms'),
    openAboveOhms: header['open above'].decimal('limit_ohms'),
  };
  header['closed below'].holds(() => mustBeLimits(limits));
  const listed = listedIn(rows);
  const [first] = contradictionsIn(listed);
  if (first !== undefined) throw new Row([], first + HEADER.length + 2).broken('the other points contradict this one');
  const facts = {
    inspector: text('inspector'),
    title: text('title'),
    drawing: text('drawing'),
    serial: text('serial'),
    points: header['cross-connections'].holds(() => allPoints(listed, cross)),
    cross,
    limits,
    checksEveryReadings: header['leads checked after readings'].whole('text'),
  };
  if (facts.points.length === 0) throw header['cross-connections'].broken('no point follows');
  const receivedAt = header['received at'].time(text('received at'));
  let run = applyContinuity(null, { type: 'continuity-received', at: receivedAt, facts });
  for (const row of rows) {
    if (row.value('row') !== 'event') continue;
    const events = row.holds(() => {
      const outcome = decideContinuity(run, commandOf(row), row.time());
      if (outcome instanceof Problem) throw outcome;
      return outcome;
    });
    for (const event of events) run = applyContinuity(run, event);
  }
  return run;
}

/** The points that were put in; those that follow from them are worked out anew. */
function listedIn(rows: readonly Row[]): ListedPoint[] {
  return rows
    .filter((row) => row.value('row') === 'point' && row.value('origin') === 'listed')
    .map((row) => {
      const expected = row.oneOf('expected', EXPECTED);
      const limitOhms = row.value('limit_ohms') === '' ? null : row.decimal('limit_ohms');
      const fault = limitOhms === null ? null : limitFault(expected, limitOhms);
      if (fault !== null) throw row.broken(fault);
      const [wire, from, to, state, note] = (['wire', 'from', 'to', 'state', 'text'] as const).map((column) =>
        row.value(column),
      ) as [string, string, string, string, string];
      if (from === '' || to === '' || from === to) throw row.broken('it does not name two terminals');
      return { wire, from, to, expected, limitOhms, state, note };
    });
}

function commandOf(row: Row): Exclude<ContinuityCommand, { type: 'receive' | 'note-certificate' }> {
  const [by, text] = [row.value('by'), row.value('text')];
  switch (row.value('item')) {
    case 'meter-connected':
      return { type: 'connect-meter', meter: { ...row.facts(meterFacts.omit({ address: true })), address: '' } };
    case 'cautions-confirmed':
      return { type: 'confirm-cautions', by, cautions: row.facts(z.array(z.string())) };
    case 'leads-checked':
      return { type: 'check-leads', by, check: row.oneOf('origin', LEAD_CHECKS), shown: row.facts(z.array(leadShown)) };
    case 'checks-lapsed':
      return { type: 'lapse', why: text };
    case 'point-read': {
      const line = row.value('meter_line');
      const measured = {
        raw: row.value('meter_text'),
        ...(line === '' ? {} : { said: line }),
        range: row.oneOf('range', ['set', 'automatic'] as const),
      };
      return { type: 'record-point', point: row.whole('point'), by: row.oneOf('by', READ_BY), measured };
    }
    case 'point-skipped':
      return { type: 'skip-point', point: row.whole('point'), by, reason: text };
    case 'reading-voided':
      return { type: 'void-reading', reading: row.whole('reading'), by, reason: text };
    case 'decided': {
      const approved = row.value('approved_by');
      const disposition = row.oneOf('verdict', continuityDisposition.options);
      return { type: 'decide', disposition, by, reason: text, approvedBy: approved === '' ? null : approved };
    }
    case 'hold-lifted':
      return { type: 'lift-hold', by, reason: text };
    default:
      throw row.broken(`"${row.value('item')}" is nothing that happens in a continuity run`);
  }
}

function wordsFor(run: ContinuityRun, publicKey: string): string[] {
  const tally = continuityTally(run);
  return [
    DIGEST_FITS,
    signatureWords(publicKey),
    `Every check of the leads, ${run.readings.size} readings and their verdicts against ${run.limits.closedBelowOhms} ohm and ${run.limits.openAboveOhms} ohm, from the meter's own texts`,
    `The pairs that follow from the list (${run.cross}); ${tally.points} points, nets and matrix`,
  ];
}
