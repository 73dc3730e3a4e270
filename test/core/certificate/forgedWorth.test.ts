import { describe, expect, it } from 'vitest';
import { verifyCertificate } from '../../../core/certificate/verify.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { decidedRun, readyRun, walk, withReadings } from '../inspection/walk.ts';
import { acceptedRun, forged, openRows, refusal, set } from './files.ts';

/** A lot judged on condition, corrected for temperature, with the risks of its rule and a piece far off. */
function conditionalRun(): Run {
  const run = readyRun({
    plan: { sampleSize: 40, accept: 3 },
    decision: { rule: 'non-binary', processSpread: '12 ohm' },
    temperature: { coefficient: { knownPpmPerKelvin: '15', uncertaintyPpmPerKelvin: '3' } },
  });
  const good = Array.from({ length: 37 }, (_, index) => (4700 + ((index * 7) % 37) / 5).toFixed(2));
  return decidedRun(withReadings(run, ...good, '4747.00', '4748.00', '4600.00'), 'accepted');
}

/** A crossed study of two pieces. */
function studiedRun(): Run {
  const study = { design: 'crossed', pieces: 2, operators: ['Ines Okoro', 'R. Adeyemi'], repeats: 2, seed: 3 } as const;
  const raws = ['4700.0', '4690.1', '4700.2', '4690.0', '4700.1', '4690.3', '4700.0', '4690.2'];
  const run = readyRun({ plan: { study: { ...study, operators: [...study.operators] } } });
  return decidedRun(withReadings(run, ...raws), 'studied');
}

describe('a forged file of a lot judged by its uncertainty, or of a study', () => {
  it('begins from intact ones, in which what is forged below is there', () => {
    expect(verifyCertificate(forged(openRows(conditionalRun()))).disposition).toBe('accepted');
    expect(verifyCertificate(forged(openRows(studiedRun()))).disposition).toBe('studied');
    expect(conditionalRun().tally).toMatchObject({ conditionalPass: 1, conditionalFailHigh: 1, failLow: 1 });
  });

  // What is put in: the rows that follow from it are named.
  it.each([
    ['decision', 'rule', 'text', 'guard-band'],
    ['decision', 'rule', 'text', 'simple-acceptance'],
    ['decision', 'rule', 'text', 'good will'],
    ['decision', 'guard factor', 'number', '0.83'],
    ['decision', 'guard factor', 'number', '11'],
    ['decision', 'process spread', 'ohms', '13'],
    ['decision', 'process spread', 'ohms', ''],
    ['temperature', 'reference', 'celsius', '25'],
    ['temperature', 'reference', 'celsius', '23'],
    ['temperature', 'coefficient', 'text', 'limit'],
    ['temperature', 'coefficient in ppm per kelvin', 'number', '14'],
    ['temperature', 'coefficient known within ppm per kelvin', 'number', '300'],
    ['temperature', 'ambient known within kelvins', 'number', '20'],
  ])('is refused with %s, %s, %s "%s"', (row, item, column, value) => {
    const rows = openRows(conditionalRun());
    set(rows, row, item, column, value);
    expect(refusal(forged(rows))).toMatch(/row \d+/);
  });

  // What follows: its own row is named.
  it.each([
    ['reading', '38', 'verdict', 'pass'],
    ['reading', '39', 'verdict', 'conditional-pass'],
    ['reading', '39', 'verdict', 'fail-high'],
    ['reading', '40', 'verdict', 'conditional-fail-low'],
    ['reading', '1', 'temperature_ohms', '0'],
    ['reading', '1', 'expanded_ohms', '0.01'],
    ['reading', '1', 'expanded_ohms', ''],
    ['reading', '1', 'coverage_factor', '1.00'],
    ['reading', '38', 'wrong_percent', '0'],
    ['summary', 'conditional pass', 'pieces', '0'],
    ['summary', 'conditional fail low', 'pieces', '1'],
    ['summary', 'conditional fail high', 'pieces', '0'],
    ['part', 'rated power in watts', 'number', 'lots'],
  ])('is refused at %s, %s with %s "%s"', (row, item, column, value) => {
    const rows = openRows(conditionalRun());
    const number = set(rows, row, item, column, value);
    expect(refusal(forged(rows))).toContain(`row ${number}: `);
  });

  it.each([
    ['a lot', conditionalRun],
    ['a study', studiedRun],
  ] as const)('is refused at each figure of %s that was changed, each cell that has one', (_, runOf) => {
    const rows = openRows(runOf());
    const columns = rows[0] ?? [];
    let changed = 0;
    for (const [index, cells] of rows.entries()) {
      if (!['worth', 'drift', 'figure', 'study', 'order'].includes(cells[0] ?? '')) continue;
      for (const [place, cell] of cells.entries()) {
        if (place < 2 || cell === '') continue;
        const other = rows.with(
          index,
          cells.with(place, /\d/.test(cell) ? cell.replace(/\d/, (d) => `${(Number(d) + 1) % 10}`) : `${cell}.`),
        );
        expect(refusal(forged(other)), `${cells[1]}, ${columns[place]}`).toContain(
          `row ${index + 1}: ${columns[place]} is`,
        );
        changed += 1;
      }
    }
    expect(changed).toBeGreaterThan(30);
  });

  it.each([
    ['plan', 'design', 'text', 'single'],
    ['plan', 'pieces', 'pieces', '4'],
    ['plan', 'operator', 'by', 'R. Adeyemi'],
    ['plan', 'operator', 'by', 'Somebody Else'],
    ['plan', 'repeats', 'number', '3'],
    ['plan', 'sessions', 'number', '2'],
    ['plan', 'seed', 'number', '4'],
    ['plan', 'turns', 'number', '9'],
    ['plan', 'reference value', 'ohms', '4700'],
    ['plan', 'chosen by', 'text', 'AQL'],
    ['disposition', 'disposition', 'text', 'accepted'],
    ['disposition', 'disposition', 'text', 'not-accepted'],
  ])('of a study is refused with %s, %s, %s "%s"', (row, item, column, value) => {
    const rows = openRows(studiedRun());
    set(rows, row, item, column, value);
    expect(refusal(forged(rows))).toMatch(/row \d+/);
  });

  it('of a lot is refused as a study, and of a study with turns to go as one that is done', () => {
    const lot = openRows(acceptedRun());
    const number = set(lot, 'disposition', 'disposition', 'text', 'studied');
    expect(refusal(forged(lot))).toContain(`row ${number}: studied, but This run inspects a lot`);
    const study = { design: 'single', pieces: 1, operators: ['Ines Okoro'], repeats: 4, seed: 1 } as const;
    const begun = withReadings(readyRun({ plan: { study: { ...study, operators: ['Ines Okoro'] } } }), '4700.1');
    const onHold = walk(begun, { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'late' });
    const held = openRows(onHold).filter(([row]) => row !== 'hold');
    const at = set(held, 'disposition', 'disposition', 'text', 'studied');
    expect(refusal(forged(held))).toContain(`row ${at}: studied, but This study still has 3 readings to go`);
  });
});
