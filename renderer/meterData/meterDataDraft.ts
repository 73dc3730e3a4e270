import Big from 'big.js';
import type { z } from 'zod';
import { type MeterData, meterData } from '../../core/accuracy/meterData.ts';
import { asProblem } from '../../core/problem/problem.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { sentence } from '../../core/quantity/sentence.ts';

/** One row of the manual's table of limits of error, as it is being entered. */
export interface RangeDraft {
  method: 'both' | '2-wire' | '4-wire';
  /** Like `100k`. */
  fullScale: string;
  percentOfReading: string;
  /** Either this, or counts and what one is worth. */
  percentOfRange: string;
  counts: string;
  countOhms: string;
  kelvinReading: string;
  kelvinRange: string;
  /** Like `1m`, in amperes. */
  current: string;
}

/** Accuracy and calibration of a meter as they are being entered, all as text. */
export interface MeterDataDraft {
  date: string;
  due: string;
  certificate: string;
  by: string;
  validDays: string;
  lowest: string;
  highest: string;
  ranges: readonly RangeDraft[];
}

export const EMPTY_RANGE: RangeDraft = {
  method: 'both',
  fullScale: '',
  percentOfReading: '',
  percentOfRange: '',
  counts: '',
  countOhms: '',
  kelvinReading: '',
  kelvinRange: '',
  current: '',
};

export const EMPTY_METER_DATA: MeterDataDraft = {
  date: '',
  due: '',
  certificate: '',
  by: '',
  validDays: '',
  lowest: '',
  highest: '',
  ranges: [EMPTY_RANGE],
};

/** A field of the form: its name, or of a row `0.fullScale`; `ranges` is the table as a whole. */
export type MeterDataField = string;

/** What was entered, and what is wrong with it by field. */
export interface MeterDataRead {
  data: MeterData | null;
  problems: Record<MeterDataField, string>;
}

/** The form's field for each place in the data; those of a row come behind its number. */
const FIELD_OF_PATH: Record<string, string> = {
  'calibration.date': 'date',
  'calibration.due': 'due',
  'calibration.certificate': 'certificate',
  'calibration.by': 'by',
  calibration: 'due',
  validDays: 'validDays',
  'ambient.lowest': 'lowest',
  'ambient.highest': 'highest',
  ambient: 'highest',
  ranges: 'ranges',
};

const FIELD_OF_ROW_PATH: Record<string, keyof RangeDraft> = {
  method: 'method',
  fullScaleOhms: 'fullScale',
  percentOfReading: 'percentOfReading',
  'plus.percentOfRange': 'percentOfRange',
  'plus.counts': 'counts',
  'plus.countOhms': 'countOhms',
  plus: 'percentOfRange',
  'perKelvin.percentOfReading': 'kelvinReading',
  'perKelvin.percentOfRange': 'kelvinRange',
  testCurrentAmperes: 'current',
};

/** Reads the form. Rows in which nothing was written are left out. */
export function readMeterData(draft: MeterDataDraft): MeterDataRead {
  const problems: MeterDataRead['problems'] = {};
  const rows = draft.ranges.map((row, index) => ({ row, index })).filter(({ row }) => !isBlank(row));
  const read = meterData.safeParse({
    calibration: { date: draft.date.trim(), due: draft.due.trim(), certificate: draft.certificate, by: draft.by },
    validDays: draft.validDays.trim() === '' ? undefined : Number(draft.validDays),
    ambient: { lowest: decimal(draft.lowest), highest: decimal(draft.highest) },
    ranges: rows.map(({ row, index }) => rangeOf(row, index, problems)),
  });
  if (read.success && Object.keys(problems).length === 0) return { data: read.data, problems };
  for (const issue of read.error?.issues ?? []) {
    // That lowest and highest do not go together says nothing while one of them is no number.
    if (issue.path.join('.') === 'ambient' && problems.lowest) continue;
    const field = fieldOf(
      issue,
      rows.map(({ index }) => index),
    );
    problems[field] ??= messageOf(issue.message, field);
  }
  return { data: null, problems };
}

function isBlank({ method, ...texts }: RangeDraft): boolean {
  return Object.values(texts).every((text) => text.trim() === '');
}

function rangeOf(row: RangeDraft, index: number, problems: MeterDataRead['problems']) {
  const inOhms = (field: 'fullScale' | 'countOhms') => {
    try {
      return plain(parseOhms(row[field]));
    } catch (thrown) {
      const { what, toDo } = asProblem(thrown);
      problems[`${index}.${field}`] = row[field].trim() === '' ? 'Must not be empty.' : `${what}. ${toDo}`;
      return '';
    }
  };
  const written = (...fields: (keyof RangeDraft)[]) => fields.some((field) => row[field].trim() !== '');
  if (!written('percentOfRange', 'counts', 'countOhms')) {
    problems[`${index}.percentOfRange`] = 'Per cent of range, or counts with what one is worth.';
  }
  if (written('percentOfRange') && written('counts', 'countOhms')) {
    problems[`${index}.percentOfRange`] = 'Give per cent of range or counts, not both.';
  }
  const plus = written('counts', 'countOhms')
    ? { counts: decimal(row.counts), countOhms: inOhms('countOhms') }
    : { percentOfRange: decimal(row.percentOfRange) };
  return {
    method: row.method,
    fullScaleOhms: inOhms('fullScale'),
    percentOfReading: decimal(row.percentOfReading),
    plus,
    perKelvin: written('kelvinReading', 'kelvinRange')
      ? { percentOfReading: decimal(row.kelvinReading || '0'), percentOfRange: decimal(row.kelvinRange || '0') }
      : null,
    testCurrentAmperes: written('current') ? amperes(row.current, `${index}.current`, problems) : null,
  };
}

/** A decimal number as written: a per cent sign behind it and a missing zero before the point are no fault. */
function decimal(text: string): string {
  return text
    .trim()
    .replace(/\s*%$/, '')
    .replace(/^(-?)\./, '$10.');
}

const CURRENT = /^(\d+(?:\.\d+)?|\.\d+)\s*([mµμun]?)\s*A?$/;
const POWERS: Record<string, number> = { '': 0, m: -3, u: -6, µ: -6, μ: -6, n: -9 };

/** A current as written, like `1m` or `100 µA`, in amperes. */
function amperes(text: string, field: string, problems: MeterDataRead['problems']): string {
  const [, figures = '', prefix = ''] = CURRENT.exec(text.trim()) ?? [];
  if (figures === '') {
    problems[field] = 'Write it like 1m, 100u or 0.001 (amperes).';
    return '';
  }
  return plain(new Big(figures).times(`1e${POWERS[prefix] ?? 0}`));
}

function fieldOf(issue: z.core.$ZodIssue, rows: readonly number[]): MeterDataField {
  const [first, row, ...rest] = issue.path;
  if (first !== 'ranges' || row === undefined) return FIELD_OF_PATH[issue.path.join('.')] ?? 'ranges';
  // Of a union only the way that was meant counts.
  const inner = issue.code === 'invalid_union' ? issue.errors.flat()[0]?.path : undefined;
  const path = [...rest, ...(inner ?? [])].join('.');
  return `${rows[Number(row)]}.${FIELD_OF_ROW_PATH[path] ?? 'fullScale'}`;
}

function messageOf(message: string, field: MeterDataField): string {
  if (field === 'highest' && message.includes('lowest')) return 'Must be above the lower one.';
  if (field === 'validDays') return 'Whole days, from 1 to 36500.';
  if (message.includes('decimal')) return 'Write a number like 18 or 0.0035.';
  return sentence(message);
}

/** The form filled with data as they are kept. */
export function draftOf(data: MeterData): MeterDataDraft {
  const { calibration, ambient } = data;
  return {
    ...calibration,
    ...ambient,
    validDays: String(data.validDays),
    ranges: data.ranges.map((range) => ({
      method: range.method,
      fullScale: formatOhms(range.fullScaleOhms).replace(/ Ω$/, '').replace(' ', '').replace('Ω', ''),
      percentOfReading: range.percentOfReading,
      percentOfRange: 'percentOfRange' in range.plus ? range.plus.percentOfRange : '',
      counts: 'counts' in range.plus ? range.plus.counts : '',
      countOhms: 'counts' in range.plus ? range.plus.countOhms : '',
      kelvinReading: range.perKelvin?.percentOfReading ?? '',
      kelvinRange: range.perKelvin?.percentOfRange ?? '',
      current: range.testCurrentAmperes ?? '',
    })),
  };
}
