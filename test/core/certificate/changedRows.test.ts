import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { FORGER } from '../../signer.ts';
import { confirmedRun, decidedRun, readyRun, walk, withReadings } from '../inspection/walk.ts';
import { acceptedRun, bytesOf, closedBy, openRows, refusal, refusedRun } from './files.ts';

/** A lot with positions, a piece taken elsewhere and one measured again: what was said is put in, and follows from nothing. */
function positionsRun(): Run {
  let run = readyRun({ positions: { kind: 'random', seed: 3 }, lot: { number: 'L', size: 3000 } });
  run = withReadings(run, '4700', '4701');
  run = walk(run, { type: 'void-reading', reading: 2, by: 'Ines Okoro', reason: 'slipped' });
  run = walk(run, { type: 'say-position', position: 17 });
  return decidedRun(withReadings(run, '4702', '4703', '4704', '4705'), 'accepted');
}

function studyRun(): Run {
  const study = { design: 'crossed', pieces: 2, operators: ['Ann', 'Ben'], repeats: 2, seed: 3 } as const;
  const run = readyRun({ plan: { study: { ...study, operators: [...study.operators] } } });
  return decidedRun(withReadings(run, ...Array.from({ length: 8 }, (_, turn) => `47${turn % 4}0.${turn}`)), 'studied');
}

const heldRun = () =>
  walk(confirmedRun(), { type: 'decide-lot', disposition: 'on-hold', by: 'Ines Okoro', reason: 'waiting' });

function liftedRun(): Run {
  let run = readyRun();
  run = walk(withReadings(run, '4700'), { type: 'decide-lot', disposition: 'on-hold', by: 'A', reason: 'waiting' });
  run = walk(run, { type: 'lift-hold', by: 'B', reason: 'came' });
  return decidedRun(withReadings(run, '4701', '4702', '4703', '4704'), 'accepted');
}

const KINDS: readonly (readonly [kind: string, run: Run])[] = [
  ['an accepted lot', acceptedRun()],
  ['a lot not accepted', refusedRun()],
  ['a lot with positions', positionsRun()],
  ['a study', studyRun()],
  ['a lot on hold', heldRun()],
  ['a lot that was on hold', liftedRun()],
];

type Change = (rows: string[][]) => string[][];

/** Any one row changed in a cell, removed, there twice, made up, or swapped with another. */
function anyChange(rows: readonly (readonly string[])[]): fc.Arbitrary<Change> {
  const row = fc.integer({ min: 1, max: rows.length - 1 });
  const column = fc.nat((rows[0]?.length ?? 1) - 1);
  const cell = fc.oneof(
    fc.constantFrom('', '0', '1', '4700', 'x', 'pass', 'Ann', '2026-03-02T13:05:09.120+00:00'),
    fc.string({ maxLength: 8 }),
  );
  return fc.oneof(
    fc.tuple(row, column, cell).map(
      ([at, place, to]): Change =>
        (all) =>
          all.with(at, (all[at] ?? []).with(place, to)),
    ),
    row.map(
      (at): Change =>
        (all) =>
          all.toSpliced(at, 1),
    ),
    fc.tuple(row, row).map(
      ([at, of]): Change =>
        (all) =>
          all.toSpliced(at, 0, all[of] ?? []),
    ),
    fc.tuple(row, row).map(
      ([one, other]): Change =>
        (all) =>
          all.with(one, all[other] ?? []).with(other, all[one] ?? []),
    ),
  );
}

const written = (rows: string[][], separator: string) =>
  stringify(rows, { delimiter: separator, record_delimiter: 'windows' });

describe.each(KINDS)('any one row of %s changed, removed, added or swapped', (_, run) => {
  const rows = openRows(run);
  const intact = closedBy(Buffer.from(written(rows, ',')));
  const closing = new TextDecoder().decode(intact).split('\r\n').slice(-3).join('\r\n');
  const key = rows.findIndex(([row, item]) => row === 'certificate' && item === 'key');

  /** Does this to each changed file. */
  function eachChanged(check: (changed: string[][]) => void, numRuns: number): void {
    fc.assert(
      fc.property(anyChange(rows), (change) => {
        const changed = change(rows.map((cells) => [...cells]));
        fc.pre(
          changed.map((cells) => cells.join('\0')).join('\n') !== rows.map((cells) => cells.join('\0')).join('\n'),
        );
        check(changed);
      }),
      { numRuns },
    );
  }

  it('begins from an intact file', () => {
    expect(verifyCertificate(intact).form).toBe('dot');
  });

  it('is found by the digest (property)', () => {
    eachChanged((changed) => {
      expect(refusal(bytesOf(written(changed, ',') + closing))).toMatch(/the digest/);
    }, 25);
  });

  it('is found with the digest made anew, by whoever has not the key (property)', () => {
    eachChanged((changed) => {
      // As only the key would sign it, by another key, or with the signature that stood there.
      refusal(closedBy(Buffer.from(written(changed, ',')), FORGER));
      const anew = new TextDecoder().decode(closedBy(Buffer.from(written(changed, ','))));
      const old = closing.slice(closing.indexOf('signature,'));
      refusal(bytesOf(anew.slice(0, anew.lastIndexOf('signature,')) + old));
    }, 25);
  });

  it('is found in the form with a decimal comma (property)', () => {
    const comma = (all: string[][]) =>
      all.map((cells, at) =>
        at === 0
          ? cells
          : cells.map((cell, column) => (NUMERIC.test(rows[0]?.[column] ?? '') ? cell.replaceAll('.', ',') : cell)),
      );
    const whole = written(comma(rows), ';') + closing.replaceAll(',', ';');
    expect(verifyCertificate(bytesOf(whole)).form).toBe('comma');
    eachChanged((changed) => {
      const file = written(comma(changed), ';') + closing.replaceAll(',', ';');
      // What is a dot in a column of numbers is a comma there already.
      if (file !== whole) refusal(bytesOf(file));
    }, 25);
  });

  it('leaves another key for whoever signs it anew with their own: whose it is must be asked', () => {
    const own = rows.map((cells) => [...cells]);
    expect(own[key]?.[2]).toContain(' ed25519 ');
    expect(refusal(closedBy(Buffer.from(written(own, ',')), FORGER))).toContain('at the signature');
  });
});

const NUMERIC =
  /^(piece|asked_position|position|pieces|ohms|\w+_ohms|coverage_factor|volts|celsius|percent|number|wrong_percent)$/;
