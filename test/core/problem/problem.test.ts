import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { catalogue } from '../../../core/problem/catalogue.ts';
import { asProblem, Problem, type ProblemCode, problem } from '../../../core/problem/problem.ts';
import { LAYERS, sourcesBelow } from '../../layers/imports.ts';

/** Makes the problem with this code from made-up facts, as many as it asks for. */
function made(code: ProblemCode, fact: string | number = 'fact'): Problem {
  const facts = Array.from({ length: catalogue[code].what.length }, () => fact);
  return (problem as (code: ProblemCode, ...facts: unknown[]) => Problem)(code, ...facts);
}

describe('every problem of the catalogue', () => {
  it.each(Object.keys(catalogue) as ProblemCode[])('%s says what happened and what to do, in one line', (code) => {
    expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
    const { what, toDo, message } = made(code);
    expect(what.trim()).not.toBe('');
    expect(what).not.toMatch(/\.$/);
    expect(what).not.toContain('undefined');
    expect(toDo.trim()).toMatch(/\.$/);
    expect(message).toBe(`${what}. ${toDo} [${code}]`);
    expect(message).not.toMatch(/\p{Cc}/u);
  });

  it.each(Object.keys(catalogue) as ProblemCode[])('%s stays one line whatever the facts quote', (code) => {
    expect(made(code, 'two\r\nlines \u001b[31mred\u2028three').message).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
  });

  it.each((Object.keys(catalogue) as ProblemCode[]).filter((code) => catalogue[code].what.length > 0))(
    '%s names what it is about',
    (code) => expect(made(code, 'the-thing').what).toContain('the-thing'),
  );
});

describe('the catalogue', () => {
  it('has no entry that nothing meets', () => {
    const sources = Object.keys(LAYERS)
      .flatMap((layer) => sourcesBelow(join(import.meta.dirname, '../../..', layer)))
      .map((file) => readFileSync(file, 'utf8'))
      .join('\n');
    const unmet = Object.keys(catalogue).filter((code) => !new RegExp(`problem\\(\\s*'${code}'`).test(sources));
    // Said by main/start.js, which old versions of Node must be able to read: see test/scenarios/startWaysOut.test.ts.
    expect(unmet).toEqual(['node-too-old']);
  });
});

describe('a problem', () => {
  it('crosses a door as plain data', () => {
    const data = JSON.parse(JSON.stringify(problem('reading-unknown', 7)));
    expect(data).toEqual({
      code: 'reading-unknown',
      what: 'There is no reading 7 in this run',
      toDo: 'Name one of the readings listed.',
    });
    expect(new Problem(data).message).toBe(problem('reading-unknown', 7).message);
  });

  it('is what was thrown, or a defect', () => {
    const known = problem('meter-missing');
    expect(asProblem(known)).toBe(known);
    expect(asProblem(new Error('no such thing'))).toMatchObject({
      code: 'defect',
      what: expect.stringContaining('no such thing'),
    });
    expect(asProblem('text')).toMatchObject({ code: 'defect', what: expect.stringContaining('text') });
  });
});
