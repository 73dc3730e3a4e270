import { describe, expect, it } from 'vitest';
import type { StationClient } from '../../../core/contract/contract.ts';
import { type Opening, openRun } from '../../../core/contract/openRun.ts';
import { PAGE, Readings } from '../../../core/inspection/readings.ts';
import type { Reading, Run } from '../../../core/inspection/run.ts';
import { OpenedRuns } from '../../../main/station/openedRuns.ts';
import { recordInMemory } from '../../bench/screen/seededRecord.ts';
import { readyRun, withReadings } from '../../core/inspection/walk.ts';

/** More than two answers. */
const COUNT = 40 * PAGE + 17;

/** A run of so many readings, opened over a line that hands on plain text and takes a moment, while one reading more is taken. */
function opening() {
  const run = withReadings(readyRun(), '4702.1');
  const template = run.readings.first() as Reading;
  const reading = (place: number): Reading => ({ ...template, reading: place + 1, piece: place + 1 });
  const before: Run = { ...run, readings: Readings.of(Array.from({ length: COUNT }, (_, place) => reading(place))) };
  let now = { run: before, position: 100 };
  const opened = new OpenedRuns(recordInMemory([]), () => now);
  const asked: string[] = [];
  let [waiting, most] = [0, 0];
  const ask = async (name: string, question: { run: number; position: number; from: number }) => {
    most = Math.max(most, ++waiting);
    asked.push(name);
    const { position, from } = question;
    const answer = name === 'open-run' ? opened.open(1) : { pages: opened.pages(1, position, from) };
    now = { run: { ...before, readings: before.readings.push(reading(COUNT)) }, position: 101 };
    const text = JSON.stringify(answer);
    await new Promise((resolve) => setTimeout(resolve, 5));
    waiting--;
    return JSON.parse(text) as never;
  };
  return { before, line: { ask: ask as StationClient['ask'] }, asked, most: () => most };
}

describe('opening a large run', () => {
  it('gives all of it as it was when it was opened, though it goes on meanwhile', async () => {
    const { before, line, asked, most } = opening();
    const told: Opening[] = [];
    const { run, position } = await openRun(line, 1, (how) => told.push(how));
    expect(position).toBe(100);
    expect(run.readings.size).toBe(COUNT);
    for (const place of [0, PAGE - 1, PAGE, COUNT - 1]) {
      expect(run.readings.get(place)).toEqual(before.readings.get(place));
    }
    expect(asked).toEqual(['open-run', 'pages-of-run', 'pages-of-run']);
    expect(told).toEqual([
      { read: 16 * PAGE, of: COUNT },
      { read: 32 * PAGE, of: COUNT },
    ]);
    expect(most()).toBe(2);
  });

  it('ends with what is thrown where it is told of', async () => {
    const { line, asked } = opening();
    const left = new Error('the screen was left');
    const tell = () => {
      throw left;
    };
    await expect(openRun(line, 1, tell)).rejects.toBe(left);
    expect(asked).toHaveLength(3);
  });
});
