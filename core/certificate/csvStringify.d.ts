// What core uses of csv-stringify. Its own types bring in all of Node's, which core must do without (see core/tsconfig.json).

export function stringify(input: string[][], options: { delimiter: string; record_delimiter: string }): string;
