import * as z from 'zod';

/** Free text of one line: names, numbers, reasons. Control characters would break tables and terminals. */
export const lineOfText = z
  .string()
  .trim()
  .max(200, 'at most 200 characters')
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
  .regex(/^[^\u0000-\u001f\u007f-\u009f\u2028\u2029]*$/u, 'one line of text without control characters');

/** Free text that must not be empty. */
export const namedText = lineOfText.min(1, 'must not be empty');
