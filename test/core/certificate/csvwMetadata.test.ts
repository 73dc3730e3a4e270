import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { certificateOf } from '../../../core/certificate/certificateOf.ts';
import { CSVW_COLUMNS } from '../../../core/certificate/csvwColumns.ts';
import { csvwMetadata } from '../../../core/certificate/csvwMetadata.ts';
import { COLUMNS, NUMERIC_COLUMNS } from '../../../core/certificate/format.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { SIGNER } from '../../signer.ts';
import { decidedRun, readyRun, withReadings } from '../inspection/walk.ts';
import { ABOUT, acceptedRun, commaText, refusedRun } from './files.ts';

// W3C Recommendation "Metadata Vocabulary for Tabular Data", 17 December 2015 (from memory, section by section), and "Model for
// Tabular Data and Metadata on the Web" of the same day.

/** 5.4.2, 5.5.1, 5.6, 5.9, 5.11.2: the properties that may stand in each; all others are common properties with a prefix (5.8). */
const INHERITED = [
  'aboutUrl',
  'datatype',
  'default',
  'lang',
  'null',
  'ordered',
  'propertyUrl',
  'required',
  'separator',
  'textDirection',
  'valueUrl',
];
const PROPERTIES = {
  Table: [
    '@context',
    '@id',
    '@type',
    'url',
    'dialect',
    'notes',
    'suppressOutput',
    'tableDirection',
    'tableSchema',
    'transformations',
    ...INHERITED,
  ],
  Schema: ['@id', '@type', 'columns', 'foreignKeys', 'primaryKey', 'rowTitles', ...INHERITED],
  Column: ['@id', '@type', 'name', 'suppressOutput', 'titles', 'virtual', ...INHERITED],
  Dialect: [
    '@id',
    '@type',
    'commentPrefix',
    'delimiter',
    'doubleQuote',
    'encoding',
    'header',
    'headerRowCount',
    'lineTerminators',
    'quoteChar',
    'skipBlankRows',
    'skipColumns',
    'skipInitialSpace',
    'skipRows',
    'trim',
  ],
  Datatype: [
    '@id',
    '@type',
    'base',
    'format',
    'length',
    'maxExclusive',
    'maxInclusive',
    'maximum',
    'maxLength',
    'minExclusive',
    'minInclusive',
    'minimum',
    'minLength',
  ],
} as const;

/** 5.8: `dc` is among the prefixes that need no declaration. */
const COMMON = /^dc:[A-Za-z]+$/;

/** 5.11.1 and XML Schema 1.1 part 2: lexical spaces, with a decimal dot. */
const LEXICAL: Record<string, RegExp> = {
  string: /^.*$/su,
  decimal: /^[+-]?(\d+(\.\d*)?|\.\d+)$/,
  integer: /^[+-]?\d+$/,
  dateTimeStamp:
    /^-?\d{4,}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-](0\d|1[0-4]):[0-5]\d)$/,
};

interface ColumnDescription {
  name: string;
  titles: string[];
  datatype: string | { base: string; format: { decimalChar: string } };
  null: string;
  required?: boolean;
}

interface Metadata {
  [property: string]: unknown;
  url: string;
  dialect: { delimiter: string; quoteChar: string; lineTerminators: string[]; headerRowCount: number };
  notes: Record<string, string>[];
  tableSchema: { columns: ColumnDescription[] };
}

const described = (form: 'dot' | 'comma', name = 'lot 7?#.csv'): Metadata =>
  JSON.parse(csvwMetadata({ name, form, sha256: 'ab', digest: 'cd', publicKey: SIGNER.publicKey }));

function mustHaveOnly(what: object, known: readonly string[]): void {
  for (const property of Object.keys(what)) {
    if (!known.includes(property)) expect(property).toMatch(COMMON);
  }
}

function baseOf({ datatype }: ColumnDescription): string {
  return typeof datatype === 'string' ? datatype : datatype.base;
}

/** The value of a cell as a program reads it that takes the metadata at its word (Model, 6.4). */
function valueIn(cell: string, { datatype }: ColumnDescription): string {
  return typeof datatype === 'string' ? cell : cell.replaceAll('.', '?').replaceAll(datatype.format.decimalChar, '.');
}

/** Rows read by the dialect that the metadata describe, and what of them is not as the columns say. */
function faultsOf(text: string, { dialect, tableSchema: { columns } }: Metadata): string[] {
  const [header = [], ...rows] = parse(text, {
    delimiter: dialect.delimiter,
    quote: dialect.quoteChar,
    recordDelimiter: dialect.lineTerminators,
  }) as string[][];
  // Metadata, 5.5.1.1, compatible schemas: as many columns, and at each place a title in common.
  const faults = columns.flatMap(({ titles }, place) =>
    titles.includes(header[place] ?? '') ? [] : [`column ${place}`],
  );
  if (header.length !== columns.length) faults.push('columns');
  for (const [index, cells] of rows.entries()) {
    for (const [place, column] of columns.entries()) {
      const cell = cells[place] ?? '';
      const isNull = cell === column.null;
      const isFault = isNull ? column.required === true : !LEXICAL[baseOf(column)]?.test(valueIn(cell, column));
      if (isFault) faults.push(`row ${index + 2}, ${column.name}: "${cell}"`);
    }
  }
  return faults;
}

function positionsRun(): Run {
  const run = readyRun({ positions: { kind: 'random', seed: 3 }, lot: { number: 'L', size: 3000 } });
  return decidedRun(withReadings(run, '4700', '4701', '4702.5', '4700', '4699'), 'accepted');
}

describe('the metadata of a certificate', () => {
  it('have properties of the vocabulary only, each of its kind', () => {
    for (const form of ['dot', 'comma'] as const) {
      const metadata = described(form);
      // 5.2: the first of the context is this very address; http, not https.
      expect(metadata['@context']).toEqual(['http://www.w3.org/ns/csvw', { '@language': 'en' }]);
      expect(metadata['@type']).toBe('Table');
      mustHaveOnly(metadata, PROPERTIES.Table);
      mustHaveOnly(metadata.dialect, PROPERTIES.Dialect);
      mustHaveOnly(metadata.tableSchema, PROPERTIES.Schema);
      for (const note of metadata.notes) mustHaveOnly(note, []);
      for (const column of metadata.tableSchema.columns) {
        mustHaveOnly(column, PROPERTIES.Column);
        if (typeof column.datatype === 'object') mustHaveOnly(column.datatype, PROPERTIES.Datatype);
        expect(Object.keys(LEXICAL)).toContain(baseOf(column));
      }
    }
  });

  it('name each column once, as a variable of a URI template that does not begin with _ (5.6)', () => {
    const names = described('dot').tableSchema.columns.map(({ name }) => name);
    expect(names).toEqual([...COLUMNS]);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^[A-Za-z0-9](\.?[A-Za-z0-9_])*$/);
  });

  it('lead to the file beside them, whatever it is called', () => {
    const { url } = described('dot', 'lot 7?#ü.csv');
    expect(decodeURIComponent(new URL(url, 'file:///folder/x.csv-metadata.json').pathname)).toBe(
      '/folder/lot 7?#ü.csv',
    );
  });

  it('say which digests the file has', () => {
    expect(described('dot').notes.map((note) => note['dc:identifier'])).toEqual(expect.arrayContaining(['ab', 'cd']));
  });

  it('take the same columns for numbers as the form with a comma does', () => {
    const numeric = COLUMNS.filter((column) => ['decimal', 'integer'].includes(CSVW_COLUMNS[column].datatype));
    expect(numeric).toEqual([...NUMERIC_COLUMNS]);
  });

  it.each([
    ['accepted', acceptedRun()],
    ['not accepted', refusedRun()],
    ['with positions', positionsRun()],
  ])('are true of every cell: %s', (_, run) => {
    expect(faultsOf(certificateOf(run, ABOUT, SIGNER), described('dot'))).toEqual([]);
    expect(faultsOf(commaText(run), described('comma'))).toEqual([]);
  });

  it('would not be of a file they are not of', () => {
    const text = certificateOf(acceptedRun(), ABOUT, SIGNER);
    expect(faultsOf(text.replace('4702.13', 'many'), described('dot'))).toHaveLength(1);
    expect(() => faultsOf(commaText(acceptedRun()), described('dot'))).toThrow('Invalid Record Length');
    expect(faultsOf(text, { ...described('comma'), dialect: described('dot').dialect })).not.toEqual([]);
  });
});
