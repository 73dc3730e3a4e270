import type { Column } from './format.ts';

/** What a column of a certificate is called and holds, for programs that read tables. Its datatype is one of XML Schema. */
export interface ColumnFacts {
  title: string;
  datatype: 'string' | 'decimal' | 'integer' | 'dateTimeStamp';
  /** Whether every row has a value there. */
  required?: true;
  description: string;
}

export const CSVW_COLUMNS: Readonly<Record<Column, ColumnFacts>> = {
  row: { title: 'Row', datatype: 'string', required: true, description: 'What the row describes.' },
  item: {
    title: 'Item',
    datatype: 'string',
    required: true,
    description: 'Which fact of it; of a reading its number from 1.',
  },
  text: { title: 'Text', datatype: 'string', description: 'A value in words, or the words that belong to a figure.' },
  by: { title: 'By', datatype: 'string', description: 'Whose check, override, void, hold or measurement it is.' },
  piece: { title: 'Piece', datatype: 'integer', description: 'Number of the piece from 1; in a study the turn.' },
  asked_position: {
    title: 'Position asked for',
    datatype: 'integer',
    description: 'Where along the reel the piece was asked for, from 1; empty where positions are not known.',
  },
  position: {
    title: 'Position',
    datatype: 'integer',
    description: 'Where along the reel the piece was taken, from 1; empty where positions are not known.',
  },
  pieces: { title: 'Pieces', datatype: 'integer', description: 'A count of pieces.' },
  ohms: {
    title: 'Resistance in ohms',
    datatype: 'decimal',
    description:
      'Of a reading its value: zero subtracted, brought to the reference temperature; empty for an open piece.',
  },
  zero_ohms: { title: 'Zero in ohms', datatype: 'decimal', description: 'The zero that was subtracted, or found.' },
  temperature_ohms: {
    title: 'Correction for temperature in ohms',
    datatype: 'decimal',
    description: 'What was added to bring a reading to the reference temperature.',
  },
  expanded_ohms: {
    title: 'Expanded uncertainty in ohms',
    datatype: 'decimal',
    description: 'U of the value (JCGM 100:2008), rounded up to two figures; empty where it is not known.',
  },
  coverage_factor: { title: 'Coverage factor', datatype: 'decimal', description: 'The k of that U.' },
  lower_ohms: { title: 'Lower limit in ohms', datatype: 'decimal', description: 'The limit itself is inside.' },
  upper_ohms: { title: 'Upper limit in ohms', datatype: 'decimal', description: 'The limit itself is inside.' },
  volts: { title: 'Volts', datatype: 'decimal', description: 'Direct voltage between the probes.' },
  celsius: { title: 'Degrees Celsius', datatype: 'decimal', description: 'A temperature.' },
  percent: { title: 'Per cent', datatype: 'decimal', description: 'A share or tolerance.' },
  number: {
    title: 'Number',
    datatype: 'decimal',
    description: 'A figure without a unit, or with the one its item names.',
  },
  verdict: {
    title: 'Verdict',
    datatype: 'string',
    description:
      'Of a reading by the decision rule; void or suspect where it does not count. Of a check how it came out.',
  },
  wrong_percent: {
    title: 'Probability of a wrong verdict in per cent',
    datatype: 'decimal',
    description: 'Of a reading that counts, both tails (JCGM 106:2012, 7.2 to 7.4).',
  },
  meter_text: { title: 'Text of the meter', datatype: 'string', description: 'What the meter sent, as it sent it.' },
  at: { title: 'Time', datatype: 'dateTimeStamp', description: 'When, in ISO 8601 with offset.' },
};
