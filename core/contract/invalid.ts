import type * as z from 'zod';
import { type Problem, problem } from '../problem/problem.ts';

/**
 * The first fault a schema found, as one line that names the field and what was expected.
 * `where` names the whole, like a file or a request.
 */
export function invalid(where: string, error: z.ZodError): Problem {
  const [first] = error.issues;
  if (!first) return problem('input-invalid', where, 'not valid');
  const issue = meantBy(first);
  if (issue.code === 'unrecognized_keys') {
    const field = [...issue.path, issue.keys[0]].join('.');
    return problem('input-invalid', where, `"${field}" is not a field that is known here`);
  }
  const path = issue.path.join('.');
  const fault = faultOf(issue);
  return problem('input-invalid', where, path === '' ? fault : `"${path}" ${fault}`);
}

/** Of a union the fault in the one branch that is meant, since its fields are there and no others; else that none fits. */
function meantBy(issue: z.core.$ZodIssue): z.core.$ZodIssue {
  if (issue.code !== 'invalid_union') return issue;
  const meant = issue.errors.filter((faults) => faults.length > 0 && faults.every(isInside));
  const [fault] = meant.length === 1 ? (meant[0] ?? []) : [];
  return fault ? meantBy({ ...fault, path: [...issue.path, ...fault.path] }) : issue;
}

/** A fault of what stands in a field that is there. */
function isInside({ path, message }: z.core.$ZodIssue): boolean {
  return path.length > 1 || (path.length === 1 && !message.endsWith('received undefined'));
}

/** The kinds of value by the names people have for them. */
const KINDS: Record<string, string> = {
  string: 'text',
  number: 'a number',
  boolean: 'true or false',
  object: 'a group of fields',
  array: 'a list',
  null: 'null',
};

function faultOf(issue: z.core.$ZodIssue): string {
  const kinds = /^Invalid input: expected (\w+), received (\w+)$/.exec(issue.message);
  if (!kinds) return issue.message;
  const [, expected = '', received = ''] = kinds;
  const found = received === 'undefined' ? 'missing' : (KINDS[received] ?? received);
  return `is ${found}, expected ${KINDS[expected] ?? expected}`;
}

/** Checks a value that crosses a door. @throws problem input-invalid */
export function checked<T>(where: string, schema: z.ZodType<T>, value: unknown): T {
  const result = schema.safeParse(value);
  if (!result.success) throw invalid(where, result.error);
  return result.data;
}
