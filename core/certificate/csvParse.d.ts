// What core uses of csv-parse. Its own types bring in all of Node's, which core must do without (see core/tsconfig.json).

export function parse(
  input: Uint8Array | string,
  options: {
    delimiter: string;
    record_delimiter: string | string[];
    relax_column_count?: boolean;
    relax_quotes?: boolean;
    trim?: boolean;
  },
): string[][];
