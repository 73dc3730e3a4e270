import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import { readValue, splitAnswer } from '../../instruments/meter/answerForm.ts';
import { dialectSchema } from '../../instruments/meter/dialect.ts';
import { dialectNamed, shippedDialects } from '../../instruments/meter/shippedDialects.ts';

const FOLDER = join(import.meta.dirname, '../../instruments/dialects');

type File = Record<string, unknown> & { functions: Record<string, Record<string, unknown>> };

function fileOf(name: string): File {
  return JSON.parse(readFileSync(join(FOLDER, `${name}.json`), 'utf8'));
}

/** What is wrong with a shipped file after a change, each fault as `path: message`. */
function faults(change: (file: File) => void, name = 'scpi'): string[] {
  const file = fileOf(name);
  change(file);
  const result = dialectSchema.safeParse(file);
  return result.success ? [] : result.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`);
}

describe('the dialects that come with the program', () => {
  it('are named as their files and told apart by what they are called', () => {
    expect(shippedDialects.map((dialect) => dialect.name)).toEqual([
      'scpi',
      'needs-remote',
      'two-wire-only',
      'other-words',
      'value-and-unit',
      'several-values',
      'one-command',
      'talker',
    ]);
    for (const { name } of shippedDialects) expect(fileOf(name).name).toBe(name);
    expect(new Set(shippedDialects.map((dialect) => dialect.title)).size).toBe(shippedDialects.length);
  });

  it('are found by name, plain SCPI without one', () => {
    expect(dialectNamed(null).name).toBe('scpi');
    expect(dialectNamed('talker').talker).not.toBeNull();
    const own = { ...dialectNamed('scpi'), name: 'bench-3' };
    expect(dialectNamed('bench-3', [own])).toBe(own);
    expect(() => dialectNamed('bench-3')).toThrow(/dialect-unknown/);
  });

  it('use the words of the standards: SCPI-1999 volume 2 and IEEE 488.2 clause 10', () => {
    const { proof, events, errors, identity, reading, functions } = dialectNamed('scpi');
    expect([proof?.set, proof?.ask, events, identity]).toEqual(['*ESE {number}', '*ESE?', '*ESR?', '*IDN?']);
    expect([errors, reading?.ask, functions['4-wire']?.configure]).toEqual(['SYST:ERR?', 'READ?', ['CONF:FRES']]);
  });
});

it('the example in the page about dialects is one', () => {
  const page = readFileSync(join(FOLDER, 'README.md'), 'utf8');
  const example = /```json\n(.*?)```/s.exec(page)?.[1] ?? '';
  expect(dialectSchema.safeParse(JSON.parse(example)).error?.issues).toBeUndefined();
  const talker = /```json\n("talker".*?)```/s.exec(page)?.[1] ?? '';
  expect(faults((file) => Object.assign(file, JSON.parse(`{${talker}}`)), 'talker')).toEqual([]);
});

describe('a dialect that is wrong', () => {
  it.each<[string, (file: File) => void, string]>([
    ['a field that is none', (file) => Object.assign(file, { colour: 'red' }), 'Unrecognized key: "colour"'],
    [
      'no number in the proof',
      (file) => Object.assign(file, { proof: { set: '*ESE', ask: '*ESE?', largest: 255 } }),
      'proof.set: expected {number} once',
    ],
    [
      'no ohms in the range',
      (file) => Object.assign(file.functions['2-wire']?.range ?? {}, { set: 'RES:RANG' }),
      'functions.2-wire.range.set: expected {ohms} once',
    ],
    [
      'no cycles',
      (file) => Object.assign(file.functions['4-wire']?.cycles ?? {}, { set: 'NPLC {ohms}' }),
      'functions.4-wire.cycles.set: expected {cycles} once',
    ],
    [
      'neither cycles nor fixed ones',
      (file) => Object.assign(file.functions['2-wire'] ?? {}, { cycles: null }),
      'functions.2-wire: either "cycles" or "fixedCycles"',
    ],
    [
      'no value in the pattern',
      (file) => Object.assign(file, { reading: { ask: 'READ?', pattern: '{any}' } }),
      'reading.pattern: expected {value} once',
    ],
    [
      'a placeholder nobody knows',
      (file) => Object.assign(file, { reading: { ask: 'READ?', pattern: '{value} {time}' } }),
      'reading.pattern: {time} is none of',
    ],
    [
      'placeholders that touch',
      (file) => Object.assign(file, { reading: { ask: 'READ?', pattern: '{any}{value}' } }),
      'reading.pattern: two placeholders touch',
    ],
    [
      'a unit nobody lists',
      (file) => Object.assign(file, { reading: { ask: 'READ?', pattern: '{value}{unit}' } }),
      'functions.2-wire.units: the pattern has a {unit}',
    ],
    [
      'units nobody reads',
      (file) => Object.assign(file.functions['2-wire'] ?? {}, { units: { OHM: 1 } }),
      'functions.2-wire.units: the pattern has no {unit}',
    ],
    [
      'overload that is a number',
      (file) => Object.assign(file, { reading: { ask: 'READ?', pattern: '{value}', overload: ['9999'] } }),
      'reading.overload: "9999" is a number',
    ],
    [
      'one name for two functions',
      (file) => Object.assign(file.functions['4-wire'] ?? {}, { names: ['"res"'] }),
      'functions.4-wire.names: ""res""'.slice(0, 23),
    ],
    ['no proof', (file) => Object.assign(file, { proof: null }), 'proof: this must be given'],
    [
      'no way to ask for the function',
      (file) => Object.assign(file, { function: null }),
      'function: this must be given',
    ],
    [
      'no resistance',
      (file) => Object.assign(file, { functions: { 'dc-volts': file.functions['dc-volts'] } }),
      'functions: neither 2-wire nor 4-wire',
    ],
    ['a command of two', (file) => Object.assign(file, { clear: '*CLS;*RST' }), 'clear: expected one command'],
    [
      'a command with an end of line',
      (file) => Object.assign(file, { clear: '*CLS\n' }),
      'clear: expected one command',
    ],
    [
      'commands longer than the meter takes',
      (file) => Object.assign(file, { longestCommand: 20 }),
      'functions.2-wire.range.set: longer than the 20 bytes',
    ],
    [
      'a register too small',
      (file) => Object.assign(file, { proof: { set: 'X {number}', ask: 'X?', largest: 7 } }),
      'proof.largest:',
    ],
  ])('%s', (_, change, expected) => {
    expect(faults(change).join('\n')).toContain(expected);
  });

  it.each<[string, (file: File) => void, string]>([
    [
      'no unit in its pattern',
      (file) => Object.assign(file, { talker: { pattern: '{value}' } }),
      'talker.pattern: expected {unit}',
    ],
    [
      'something to ask',
      (file) => Object.assign(file, { identity: '*IDN?' }),
      'identity: a talker is told and asked nothing',
    ],
    [
      'one unit for two functions',
      (file) => Object.assign(file.functions['dc-volts'] ?? {}, { units: { OHM: 1 } }),
      'functions.dc-volts.units.OHM: this unit belongs to 2-wire',
    ],
    [
      'a unit of twelve',
      (file) => Object.assign(file.functions['dc-volts'] ?? {}, { units: { dozen: 12 } }),
      'functions.dc-volts.units.dozen: expected a power of ten',
    ],
  ])('a talker with %s', (_, change, expected) => {
    expect(faults(change, 'talker').join('\n')).toContain(expected);
  });
});

describe('the form of an answer', () => {
  const form = { pattern: '{value} {unit}', overload: ['OL', '-OL'] };

  it.each([
    ['+4.70213E+03 OHM', '+4.70213E+03', 'OHM'],
    ['  4.702kOhm ', '4.702', 'kOhm'],
    ['OL', 'OL', null],
    ['OL  MOhm', 'OL', 'MOhm'],
    ['4.7EOHM', '4.7', 'EOHM'],
  ])('%s is taken apart', (line, value, unit) => {
    expect(splitAnswer(form, line)).toEqual({ value, unit });
  });

  it.each([
    '4.702',
    '4,702 kOhm',
    '4.702 kOhm 4.703 kOhm',
    '4.7 04.702 kOhm',
    '4.4.702 kOhm',
    'kOhm',
    '',
    '4.7E OHM E',
  ])('"%s" is not of the form', (line) => {
    expect(splitAnswer(form, line)).toBeNull();
  });

  it('leaves out words that are not looked at, but not their number', () => {
    const several = { pattern: '{any} {value},{unit},{any}', overload: [] };
    expect(splitAnswer(several, 'R +4.7E+03,OHM,17')).toEqual({ value: '+4.7E+03', unit: 'OHM' });
    expect(splitAnswer(several, 'R4.7,OHM,17')).toBeNull();
    expect(splitAnswer(several, 'R 4.7,OHM,17,18')).toBeNull();
    expect(splitAnswer(several, 'R 4.7,OHM')).toBeNull();
  });

  it('moves the exponent of a scaled unit and no digit', () => {
    expect(readValue(form, '4.7020', 1000)).toEqual({ kind: 'value', text: '4702.0', raw: '4.7020E+03' });
    expect(readValue(form, '+4.70213E+03', 1e-3)).toEqual({ kind: 'value', text: '4.70213', raw: '+4.70213E+00' });
    expect(readValue(form, '4702', 1)).toEqual({ kind: 'value', text: '4702', raw: '4702' });
  });

  it('reads overload as infinity, which certificates understand, and never a scaled one', () => {
    expect(readValue(form, 'OL', 1000)).toEqual({ kind: 'overload', raw: '+9.9E+37' });
    expect(readValue(form, '-OL', 1)).toEqual({ kind: 'overload', raw: '-9.9E+37' });
    expect(readValue(form, '9.9e37', 1000)).toEqual({ kind: 'overload', raw: '9.9e37' });
    expect(readValue(form, '9.91e37', 1000)).toEqual({ kind: 'not-a-number' });
  });

  it('keeps a raw text that says exactly the value, whatever digits and unit', () => {
    const digits = fc.tuple(
      fc.constantFrom('', '+', '-'),
      fc.integer({ min: 0, max: 9_999_999 }),
      fc.integer({ min: 0, max: 999 }),
    );
    fc.assert(
      fc.property(digits, fc.integer({ min: -9, max: 9 }), ([sign, whole, fraction], power) => {
        const read = readValue(form, `${sign}${whole}.${fraction}`, Number(`1e${power}`));
        if (read?.kind !== 'value') throw new Error('no value');
        expect(meterNumber(read.raw)).toEqual({ kind: 'value', text: read.text });
      }),
    );
  });
});
