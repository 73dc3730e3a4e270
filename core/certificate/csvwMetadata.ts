import { CERTIFICATE } from './certificateFormat.ts';
import { CSVW_COLUMNS } from './csvwColumns.ts';
import { type Form, SEPARATORS } from './form.ts';
import { COLUMNS, type Column, FORMAT } from './format.ts';
import { fingerprintOf } from './signature.ts';

/** A certificate's file as its metadata describe it. */
export interface DescribedFile {
  /** Its name without folders: metadata lie beside it. */
  name: string;
  form: Form;
  /** SHA-256 (hex) of the whole file, and of all bytes before its digest row in the form `dot`. */
  sha256: string;
  digest: string;
  publicKey: string;
}

/** What is put behind the name of a file to name its metadata (W3C, Model for Tabular Data and Metadata on the Web, 5.3). */
export const METADATA_ENDS = '-metadata.json';

/**
 * The metadata of a certificate's file for programs that read tables: the text of a JSON file (W3C Recommendation of 17 December 2015,
 * Metadata Vocabulary for Tabular Data: tables 5.4, schemas 5.5, columns 5.6, dialects 5.9, datatypes 5.11). Nothing of it is needed
 * to verify the certificate.
 */
export function csvwMetadata({ name, form, sha256, digest, publicKey }: DescribedFile): string {
  const metadata = {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    '@type': 'Table',
    url: urlOf(name),
    'dc:title': 'Certificate of the inspection of one lot',
    'dc:conformsTo': FORMAT,
    dialect: {
      encoding: 'utf-8',
      delimiter: SEPARATORS[form],
      lineTerminators: ['\r\n'],
      quoteChar: '"',
      doubleQuote: true,
      header: true,
      headerRowCount: 1,
      skipBlankRows: false,
      skipInitialSpace: false,
      trim: false,
    },
    notes: [
      { 'dc:description': 'SHA-256 of the whole file', 'dc:identifier': sha256 },
      {
        'dc:description':
          'SHA-256 of all bytes before its digest row, of the form with a decimal dot; what the signature is of',
        'dc:identifier': digest,
      },
      { 'dc:description': 'Fingerprint of the Ed25519 key that signed it', 'dc:identifier': fingerprintOf(publicKey) },
    ],
    tableSchema: { columns: COLUMNS.map((column, place) => columnOf(column, place, form)) },
  };
  return `${JSON.stringify(metadata, null, 2)}\n`;
}

/** What a URL would read otherwise in a file name is escaped (5.1.2, link properties). */
function urlOf(name: string): string {
  return encodeURIComponent(name);
}

function columnOf(column: Column, place: number, form: Form): object {
  const { title, datatype, required, description } = CSVW_COLUMNS[column];
  const withComma = form === 'comma' && CERTIFICATE.isNumeric[place] && datatype === 'decimal';
  return {
    name: column,
    // The header row is compared with the titles, so the name of the column is one of them.
    titles: [column, title],
    'dc:description': description,
    datatype: withComma ? { base: datatype, format: { decimalChar: ',' } } : datatype,
    null: '',
    ...(required ? { required } : {}),
  };
}
