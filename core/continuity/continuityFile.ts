import { calibrationAt } from '../accuracy/calibration.ts';
import { type Unsigned, unsigned } from '../certificate/closedFile.ts';
import { keyText } from '../certificate/signature.ts';
import { CONTINUITY_BOUNDS } from './continuityCautions.ts';
import { CONTINUITY_CLOSED, CONTINUITY_FORMAT, type ContinuityRow, continuityCells } from './continuityFormat.ts';
import {
  type ContinuityHappening,
  type ContinuityRun,
  continuityOutlook,
  continuityTally,
  isContinuityPractice,
  type PointReading,
  readingOf,
} from './continuityRun.ts';
import { DISPOSITION_WORDS, OUTLOOK_WORDS, tallyWords } from './continuityWords.ts';
import { ASSUMED_DIGITS, ASSUMED_PERCENT } from './judgePoint.ts';
import { LEAD_CHANGE_OHMS } from './leadCheck.ts';
import { continuityMatrix } from './matrix.ts';
import { NET_STATE_WORDS, netResults, swappedWords } from './netSummary.ts';
import type { Point } from './point.ts';

/** A run as it goes into a file. */
export interface ContinuityRecord {
  /** Version of the program that writes the file. */
  version: string;
  /** The public key it is signed by, 64 characters of hex. */
  publicKey: string;
  /** When, in ISO 8601 with offset. */
  at: string;
  /** Number of the run. */
  number: number;
  run: ContinuityRun;
}

/** More terminals than that make a matrix that nobody reads, and a file of tens of thousands of rows. */
export const MOST_IN_MATRIX = 200;

/** The certificate: the text of its CSV file (continuityFormat.ts) up to its digest row, to be signed and kept as UTF-8. */
export function continuityFile(record: ContinuityRecord): Unsigned {
  return unsigned(continuityRows(record).map(continuityCells), CONTINUITY_CLOSED);
}

/** All rows of the file but header, digest and signature, in order. */
export function continuityRows(record: ContinuityRecord): ContinuityRow[] {
  const { run } = record;
  return [
    ...aboutRows(record),
    ...run.points.map(pointRow),
    ...happened(run),
    ...run.points.map((point) => resultRow(run, point)),
    ...netRows(run),
    ...matrixRows(run),
    ...summaryRows(run),
    ...numbered('note', notesOf(run, record.at)),
    ...numbered('bound', CONTINUITY_BOUNDS),
  ];
}

function aboutRows({ version, publicKey, at, number, run }: ContinuityRecord): ContinuityRow[] {
  const about = (item: string, text: string): ContinuityRow => ({ row: 'continuity', item, text });
  const limit = (item: string, limit_ohms: string): ContinuityRow => ({ row: 'continuity', item, limit_ohms });
  return [
    about('format', CONTINUITY_FORMAT),
    about('program version', version),
    about('key', keyText(publicKey)),
    about('written at', at),
    about('run', String(number)),
    about('inspector', run.inspector),
    about('title', run.title),
    about('drawing', run.drawing),
    about('serial', run.serial),
    about('received at', run.receivedAt),
    about('cross-connections', run.cross),
    limit('closed below', run.limits.closedBelowOhms),
    limit('open above', run.limits.openAboveOhms),
    about('leads checked after readings', String(run.checksEveryReadings)),
  ];
}

function pointRow({ point, wire, from, to, expected, limitOhms, state, note, origin }: Point): ContinuityRow {
  const limit_ohms = limitOhms ?? '';
  return { row: 'point', item: String(point), text: note, wire, from, to, expected, limit_ohms, state, origin };
}

/** Readings and what happened beside them, in the order in which it happened. */
function happened(run: ContinuityRun): ContinuityRow[] {
  const rows: ContinuityRow[] = [];
  const beside = run.history.toArray();
  let next = 0;
  const takeUpTo = (readings: number) => {
    for (let one = beside[next]; one && one.afterReading <= readings; one = beside[next]) {
      rows.push(happeningRow(one));
      next++;
    }
  };
  takeUpTo(0);
  for (const reading of run.readings) {
    rows.push(readingRow(reading));
    takeUpTo(reading.reading);
  }
  return rows;
}

function readingRow(reading: PointReading): ContinuityRow {
  const { at, point, by, raw, said = '', range, ohms, zeroOhms, doubtOhms, found, verdict, reason } = reading;
  return {
    row: 'event',
    item: 'point-read',
    by,
    at,
    point: String(point),
    reading: String(reading.reading),
    meter_text: raw,
    meter_line: said,
    range,
    ohms: ohms ?? '',
    zero_ohms: zeroOhms,
    doubt_ohms: doubtOhms,
    found,
    verdict,
    reason: reason ?? '',
  };
}

function happeningRow(happening: ContinuityHappening): ContinuityRow {
  const { at, type } = happening;
  const row = { row: 'event', item: type.replace('continuity-', ''), at } as const;
  switch (happening.type) {
    case 'continuity-meter-connected': {
      const { address: _, ...facts } = happening.meter;
      return { ...row, text: facts.identity.text, facts: JSON.stringify(facts) };
    }
    case 'continuity-cautions-confirmed':
      return { ...row, by: happening.by, facts: JSON.stringify(happening.cautions) };
    case 'continuity-leads-checked': {
      const { by, check, shown, outcome, why, zeroOhms } = happening;
      return {
        ...row,
        by,
        origin: check,
        text: why,
        verdict: outcome,
        zero_ohms: zeroOhms ?? '',
        facts: JSON.stringify(shown),
      };
    }
    case 'continuity-checks-lapsed':
      return { ...row, text: happening.why };
    case 'continuity-point-skipped':
      return { ...row, by: happening.by, point: String(happening.point), text: happening.reason };
    case 'continuity-reading-voided':
      return { ...row, by: happening.by, reading: String(happening.reading), text: happening.reason };
    case 'continuity-decided': {
      const { by, disposition, reason, approvedBy } = happening;
      return { ...row, by, verdict: disposition, text: reason, approved_by: approvedBy ?? '' };
    }
    case 'continuity-hold-lifted':
      return { ...row, by: happening.by, text: happening.reason };
  }
}

function resultRow(run: ContinuityRun, { point, from, to, expected, state }: Point): ContinuityRow {
  const row = { row: 'result', item: String(point), from, to, expected, state } as const;
  const reading = readingOf(run, point);
  if (!reading) {
    const skipped = run.skipped.get(point);
    return { ...row, verdict: skipped ? 'skipped' : 'not-measured', text: skipped?.reason ?? '' };
  }
  const { ohms, doubtOhms, found, verdict, reason } = reading;
  return {
    ...row,
    reading: String(reading.reading),
    ohms: ohms ?? '',
    doubt_ohms: doubtOhms,
    found,
    verdict,
    reason: reason ?? '',
  };
}

function netRows(run: ContinuityRun): ContinuityRow[] {
  return netResults(run).map(({ net, terminals, state, words }) => ({
    row: 'net',
    item: String(net),
    text: state === 'good' ? terminals.join(' ') : `${terminals.join(' ')}: ${words}`,
    verdict: state,
  }));
}

function matrixRows(run: ContinuityRun): ContinuityRow[] {
  const matrix = continuityMatrix(run);
  const { terminals } = matrix;
  if (terminals.length > MOST_IN_MATRIX) return [];
  const rows: ContinuityRow[] = [];
  for (const [one, from] of terminals.entries()) {
    for (let other = one + 1; other < terminals.length; other++) {
      const cell = matrix.at(one, other);
      if (!cell) continue;
      const { expected, found, verdict, points } = cell;
      const to = terminals[other] ?? '';
      rows.push({
        row: 'matrix',
        item: String(rows.length + 1),
        from,
        to,
        expected,
        found: found ?? '',
        verdict,
        point: points.join(' '),
      });
    }
  }
  return rows;
}

function summaryRows(run: ContinuityRun): ContinuityRow[] {
  const tally = continuityTally(run);
  const nets = netResults(run);
  const said = (item: string, text: string): ContinuityRow => ({ row: 'summary', item, text });
  const states = Object.entries(NET_STATE_WORDS).flatMap(([state, words]) => {
    const { length } = nets.filter((net) => net.state === state);
    return length === 0 ? [] : [`${length} ${words}`];
  });
  const withdrawn = run.readings.filter(({ voided, suspect }) => voided || suspect).size;
  return [
    said('points', tallyWords(tally)),
    said('nets', `${nets.length}: ${states.join(', ')}`),
    said(
      'readings',
      `${run.readings.size}, of which ${withdrawn} do not count (void, or suspect because a later check of the leads failed)`,
    ),
    ...swappedWords(run).map((words) => said('swapped', words)),
    said('result', OUTLOOK_WORDS[continuityOutlook(run)]),
    said('disposition', run.decided ? DISPOSITION_WORDS[run.decided.disposition] : 'undecided'),
  ];
}

function notesOf(run: ContinuityRun, at: string): string[] {
  const { meter } = run;
  const notes: string[] = [];
  if (isContinuityPractice(run)) notes.push('Simulated bench: practice. No real wiring was measured.');
  if (meter?.data === null) {
    notes.push(
      `The accuracy of this meter was not entered: ±(${ASSUMED_PERCENT} % of the reading + ${ASSUMED_DIGITS} digits) was taken for it.`,
    );
  }
  if (meter) {
    const { state, why } = calibrationAt(meter, at);
    notes.push(`Calibration of the meter: ${state === 'in-date' ? 'in date' : state}, ${why}.`);
  }
  notes.push(
    `A value is taken to be uncertain by the limit of error of the meter, its last digit, and ${LEAD_CHANGE_OHMS} ohm of leads and contacts, added up; where a limit lies within that, the point is not judged.`,
  );
  if (run.cross === 'nets') {
    notes.push(
      'Cross-connections were looked for between one terminal of each net. That finds every one as long as each net is whole; of a net that is broken the pieces beyond the break were not looked at.',
    );
  }
  if (run.cross === 'none' || run.cross === 'neighbours') {
    notes.push('Cross-connections were looked for only where a point of this run says so: others may be there.');
  }
  if (new Set(run.points.flatMap(({ from, to }) => [from, to])).size > MOST_IN_MATRIX) {
    notes.push(`The matrix is left out: there are more than ${MOST_IN_MATRIX} terminals.`);
  }
  return notes;
}

function numbered(row: 'note' | 'bound', texts: readonly string[]): ContinuityRow[] {
  return texts.map((text, index) => ({ row, item: String(index + 1), text }));
}
