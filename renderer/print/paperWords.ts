import type { CertificatePaper, PaperRow } from '../../core/certificate/certificatePaper.ts';
import type { Row, RowKind } from '../../core/certificate/format.ts';
import { isPractice } from '../../core/inspection/run.ts';
import { counted } from '../words/count.ts';

/** The parts of a printed certificate that are made of rows. */
export type PaperSection =
  | 'file'
  | 'lot'
  | 'plan'
  | 'order'
  | 'measuring'
  | 'rule'
  | 'worth'
  | 'tally'
  | 'drift'
  | 'figures'
  | 'happenings'
  | 'disposition';

/** Where the rows of each kind are printed: none can be forgotten. Readings have a table of their own. */
const SECTIONS: Record<Exclude<RowKind, 'reading'>, PaperSection> = {
  certificate: 'file',
  bench: 'happenings',
  lot: 'lot',
  part: 'lot',
  measurement: 'measuring',
  decision: 'rule',
  temperature: 'rule',
  plan: 'plan',
  positions: 'plan',
  switching: 'plan',
  order: 'order',
  meter: 'happenings',
  check: 'happenings',
  found: 'happenings',
  reference: 'happenings',
  readiness: 'happenings',
  override: 'happenings',
  void: 'happenings',
  hold: 'happenings',
  correction: 'happenings',
  summary: 'tally',
  worth: 'worth',
  drift: 'drift',
  figure: 'figures',
  study: 'figures',
  disposition: 'disposition',
};

/** The rows of a part of the certificate, in the order of the file. */
export function rowsIn(paper: Pick<CertificatePaper, 'rows'>, section: PaperSection): PaperRow[] {
  return paper.rows.filter(({ row }) => sectionOf(row) === section);
}

function sectionOf(row: Row): PaperSection | null {
  if (row.row === 'reading') return null;
  if (row.row === 'bench' && row.item === 'kind') return 'file';
  return SECTIONS[row.row];
}

/** The figures of a row as the file has them, digit by digit, each with its unit; empty where it has none. */
export function figureText(row: Row): string {
  return [
    row.pieces && counted(Number(row.pieces), 'piece', 'pieces'),
    row.piece && `piece\u00a0${row.piece}`,
    row.position && `position\u00a0${row.position}`,
    row.ohms && `${row.ohms}\u00a0Ω`,
    row.expanded_ohms && `±${row.expanded_ohms}\u00a0Ω`,
    row.coverage_factor && `k\u00a0=\u00a0${row.coverage_factor}`,
    row.zero_ohms && `zero ${row.zero_ohms}\u00a0Ω`,
    row.lower_ohms && `from ${row.lower_ohms}\u00a0Ω`,
    row.upper_ohms && `up to ${row.upper_ohms}\u00a0Ω`,
    row.volts && `${row.volts}\u00a0V`,
    row.celsius && `${row.celsius}\u00a0°C`,
    row.percent && `${row.percent}\u00a0%`,
    row.number,
  ]
    .filter((part) => part !== undefined && part !== '')
    .join(', ');
}

/** A point in time as the file has it, to the second and with its offset: paper is read in other zones too. */
export function timeText(at: string): string {
  return at
    .replace('T', ' ')
    .replace(/(?<=:\d\d)\.\d+/, '')
    .replace(/(?=[+-]\d\d:\d\d$)/, '\u00a0');
}

/** Longer names are cut where they stand at the edge of a page; in full they stand on the first. */
const LONGEST_NAME = 48;

function short(text: string): string {
  return text.length > LONGEST_NAME ? `${text.slice(0, LONGEST_NAME - 1)}…` : text;
}

/** What every page says at its top: whose certificate it is. */
export function pageHead({ about, run }: Pick<CertificatePaper, 'about' | 'run'>): string {
  return `Certificate of run ${about.run}, part ${short(run.part.number)}, lot ${short(run.lot.number)}`;
}

/** What nobody must overlook on any page. */
export function pageMarks({ about, run }: Pick<CertificatePaper, 'about' | 'run'>): string[] {
  return [
    ...(isPractice(run) ? ['PRACTICE, simulated bench: no inspection'] : []),
    ...(about.reprint ? [`REPRINT, copy ${about.reprint.copy}`] : []),
  ];
}
