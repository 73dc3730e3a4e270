import { readdir, readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import {
  findNodeAtLocation,
  getNodeValue,
  type Node,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from 'jsonc-parser';
import type * as z from 'zod';
import { type Problem, problem, wordsOf } from '../../core/problem/problem.ts';
import { type Dialect, dialectSchema } from './dialect.ts';
import { shippedDialects } from './shippedDialects.ts';

export interface OwnDialects {
  dialects: Dialect[];
  /** What is wrong with the files that could not be taken: dialect-invalid, file-unreadable. */
  problems: Problem[];
}

const LONGEST_FILE_CHARACTERS = 100_000;

/**
 * Reads the user's own dialects, `<folder>/*.json`. A file that is wrong is left out and what is wrong with it told; the
 * others are there all the same. Never throws.
 */
export async function readOwnDialects(folder: string): Promise<OwnDialects> {
  const found: OwnDialects = { dialects: [], problems: [] };
  for (const file of await filesIn(folder, found.problems)) {
    const path = join(folder, file);
    try {
      const read = readDialectFile(path, await readFile(path, 'utf8'));
      if ('dialect' in read) found.dialects.push(read.dialect);
      else found.problems.push(...read.problems);
    } catch (thrown) {
      found.problems.push(problem('file-unreadable', path, wordsOf(thrown)));
    }
  }
  return found;
}

async function filesIn(folder: string, problems: Problem[]): Promise<string[]> {
  try {
    return (await readdir(folder)).filter((file) => file.toLowerCase().endsWith('.json')).sort();
  } catch (thrown) {
    const isMissing = thrown instanceof Error && 'code' in thrown && thrown.code === 'ENOENT';
    if (!isMissing) problems.push(problem('file-unreadable', folder, wordsOf(thrown)));
    return [];
  }
}

/** Reads the text of one file; each thing that is wrong is told with its line and column, both from 1. */
export function readDialectFile(path: string, content: string): { dialect: Dialect } | { problems: Problem[] } {
  const text = content.replace(/^\uFEFF/, '');
  const invalidAt = (offset: number, why: string) => {
    const before = text.slice(0, offset).split(/\r\n|\r|\n/);
    return problem('dialect-invalid', path, before.length, (before.at(-1) ?? '').length + 1, why);
  };
  if (text.length > LONGEST_FILE_CHARACTERS)
    return { problems: [invalidAt(0, 'the file is too long to be a dialect')] };
  const errors: ParseError[] = [];
  const tree = parseTree(text, errors, { disallowComments: true, allowTrailingComma: false });
  const [error] = errors;
  if (error)
    return { problems: [invalidAt(error.offset, `not JSON: ${syntaxWords(printParseErrorCode(error.error))}`)] };
  if (!tree) return { problems: [invalidAt(0, 'the file is empty')] };
  const twice = repeatedField(tree);
  if (twice)
    return { problems: [invalidAt(twice.offset, `the field "${getNodeValue(twice)}" is here for the second time`)] };
  const result = dialectSchema.safeParse(getNodeValue(tree));
  if (!result.success) {
    const faults = result.error.issues.flatMap(faultsOf);
    return { problems: faults.map((fault) => invalidAt(offsetOf(tree, fault), fault.why)) };
  }
  const why = nameFault(path, result.data.name);
  return why === null ? { dialect: result.data } : { problems: [invalidAt(offsetOf(tree, { path: ['name'] }), why)] };
}

function nameFault(path: string, name: string): string | null {
  if (shippedDialects.some((dialect) => dialect.name === name)) {
    return `"${name}" is the name of a dialect that comes with the program; choose another`;
  }
  const wanted = basename(path).replace(/\.json$/i, '');
  return name === wanted
    ? null
    : `"name" is "${name}", but the file is called ${basename(path)}; they must be the same`;
}

interface FieldFault {
  path: PropertyKey[];
  why: string;
  /** It is the field's name that is wrong, not its value. */
  isName?: boolean;
}

/** An issue of the schema in words, one fault for each field that is concerned. */
function faultsOf(issue: z.core.$ZodIssue): FieldFault[] {
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      path: [...issue.path, key],
      why: `"${key}" is not a field of a dialect here`,
      isName: true,
    }));
  }
  if (issue.code === 'invalid_key') {
    const why = `"${String(issue.path.at(-1))}": ${issue.issues[0]?.message ?? issue.message}`;
    return [{ path: issue.path, why, isName: true }];
  }
  const field = issue.path.join('.');
  const missing = / received undefined$/.test(issue.message);
  const why = missing ? 'is missing' : issue.message.replace(/^Invalid input: /, '');
  return [{ path: issue.path, why: field === '' ? why : `"${field}"${missing ? ' ' : ': '}${why}` }];
}

/** Where the value stands, or its name; for a field that is missing, the group it is missing in. */
function offsetOf(tree: Node, { path, isName = false }: Pick<FieldFault, 'path' | 'isName'>): number {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(tree, path.slice(0, length) as (string | number)[]);
    if (node) return isName && node.parent ? node.parent.offset : node.offset;
  }
  return tree.offset;
}

/** A field that stands twice in one group: which of them counts would depend on who reads it. */
function repeatedField(node: Node): Node | null {
  const seen = new Set<unknown>();
  for (const child of node.children ?? []) {
    const key = node.type === 'object' ? child.children?.[0] : undefined;
    if (key && seen.has(key.value)) return key;
    if (key) seen.add(key.value);
    const deeper = repeatedField(child);
    if (deeper) return deeper;
  }
  return null;
}

/** `PropertyNameExpected` as `property name expected`. */
function syntaxWords(code: string): string {
  return code.replace(/(?<=[a-z])(?=[A-Z])/g, ' ').toLowerCase();
}
