// What core uses of csv-parse. Its own types bring in all of Node's, which core must do without (see core/tsconfig.json).

export function parse(input: Uint8Array, options: { delimiter: string; record_delimiter: string }): string[][];
