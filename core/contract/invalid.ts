import type * as z from 'zod';
import { type Problem, problem } from '../problem/problem.ts';

/**
 * The first fault a schema found, as one line that names the field and what was expected.
 * `where` names the whole, like a file or a request.
 */
export function invalid(where: string, error: z.ZodError): Problem {
  const issue = error.issues[0];
  if (!issue) return problem('input-invalid', where, 'not valid');
  if (issue.code === 'unrecognized_keys') {
    const field = [...issue.path, issue.keys[0]].join('.');
    return problem('input-invalid', where, `"${field}" is not a field that is known here`);
  }
  const path = issue.path.join('.');
  return problem('input-invalid', where, path === '' ? issue.message : `"${path}" ${issue.message}`);
}

/** Checks a value that crosses a door. @throws problem input-invalid */
export function checked<T>(where: string, schema: z.ZodType<T>, value: unknown): T {
  const result = schema.safeParse(value);
  if (!result.success) throw invalid(where, result.error);
  return result.data;
}
