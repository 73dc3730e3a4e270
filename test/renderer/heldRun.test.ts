import { describe, expect, it } from 'vitest';
import type { Entry, MeterLink } from '../../core/contract/contract.ts';
import type { OpenedRun } from '../../core/contract/openRun.ts';
import { fold } from '../../core/inspection/apply.ts';
import type { InspectionEvent } from '../../core/inspection/event.ts';
import { factsOf, lotClaim } from '../../core/inspection/lotClaim.ts';
import type { Run } from '../../core/inspection/run.ts';
import { CHECKS, type CheckName } from '../../core/readiness/check.ts';
import { shownStep } from '../../renderer/shownStep.ts';
import { type HeldRun, holdOne, holdOpened, NOTHING_HELD } from '../../renderer/station/heldRun.ts';
import { METER } from '../core/inspection/walk.ts';
import { exampleLot } from '../exampleLot.ts';

const at = '2026-03-02T14:05:09.120+01:00';
const hash = '0'.repeat(64);
const FACTS = factsOf(lotClaim.parse(exampleLot()));
const checked = (check: CheckName): InspectionEvent => ({
  type: 'bench-checked',
  at,
  by: 'Ines Okoro',
  check,
  outcome: 'passed',
  why: 'as it should be',
  found: [],
  reference: null,
  zeroOhms: null,
});
const events: InspectionEvent[] = [
  { type: 'lot-received', at, facts: FACTS },
  { type: 'meter-connected', at, meter: METER },
  ...CHECKS.map(checked),
  { type: 'bench-confirmed', at, by: 'Ines Okoro', cautions: ['isolated'] },
  ...[1, 2, 3].map(
    (piece): InspectionEvent => ({
      type: 'reading-taken',
      at,
      reading: piece,
      piece,
      position: null,
      raw: '+4.7E+03',
      ohms: '4700',
      zeroOhms: '0',
      temperatureOhms: '0',
      uncertainty: { expandedOhms: '2.1', coverageFactor: '2.00' },
      verdict: 'pass',
    }),
  ),
];
/** How many entries there are before the first reading. */
const HEAD = events.length - 3;
/** Entries of one run in a record that holds others too: places with gaps. */
const entries: Entry[] = events.map((event, index) => ({
  position: 10 + 3 * index,
  run: 4,
  event,
  previous: hash,
  hash,
}));
/** The run as the station has it after these entries. */
function opened(of: readonly Entry[]): OpenedRun {
  return { run: fold(of.map(({ event }) => event)) as Run, position: of.at(-1)?.position ?? 0 };
}
const taken = (of: readonly Entry[], before = NOTHING_HELD) => holdOpened(before, opened(of));
const counted = (held: HeldRun) => held.run?.tally.counted;

describe('a run held on a screen', () => {
  it('counts an entry once, told as an answer and as news', () => {
    let held = taken(entries.slice(0, HEAD + 2));
    for (const entry of [entries[HEAD + 1], entries[HEAD + 2], entries[HEAD + 2]]) held = holdOne(held, entry as Entry);
    expect(counted(held)).toBe(3);
  });

  it('folds nothing onto a gap: after the line was down news waits until all entries are there', () => {
    const before = taken(entries.slice(0, HEAD + 1));
    // The second reading was told while the line was down; the third is told before the entries were asked for again.
    const behind = holdOne({ ...before, behind: true }, entries[HEAD + 2] as Entry);
    expect(behind.run).toBe(before.run);
    expect(taken(entries.slice(0, HEAD + 2), behind).run).toEqual(taken(entries.slice(0, HEAD + 3)).run);
  });

  it('keeps news that comes before the entries', () => {
    let held = holdOne(NOTHING_HELD, entries[HEAD + 2] as Entry);
    held = holdOne(held, entries[HEAD + 1] as Entry);
    expect(held.run).toBeNull();
    expect(counted(taken(entries.slice(0, HEAD + 1), held))).toBe(3);
    expect(counted(taken(entries, held))).toBe(3);
  });

  it('is made anew after the line was down, with what happened meanwhile', () => {
    const before = taken(entries.slice(0, HEAD + 1));
    expect(counted(before)).toBe(1);
    expect(counted(taken(entries, before))).toBe(3);
  });
});

describe('the step a run is shown at', () => {
  const run = taken(entries).run as Run;
  const connected: MeterLink = { state: 'connected', run: 4, address: 'sim:', simulated: true };

  it('is measuring while its own meter is there', () => {
    expect(shownStep(run, connected, 4)).toBe('measure');
  });

  it('is getting ready again when a check is due', () => {
    const due = taken(entries.slice(0, HEAD - 2)).run as Run;
    expect(shownStep(due, connected, 4)).toBe('ready');
  });

  it('is getting ready again when the station has no meter, or the meter serves another run', () => {
    expect(shownStep(run, { state: 'none' }, 4)).toBe('ready');
    expect(shownStep(run, { ...connected, run: 9 }, 4)).toBe('ready');
  });

  it('stays at getting ready while the meter is being connected, where a refusal is to be read', () => {
    expect(shownStep(run, { state: 'connecting', run: 4, address: 'sim:' }, 4)).toBe('ready');
  });

  it('stays at measuring while a lost meter is waited for', () => {
    const why = { code: 'meter-lost', what: 'lost', toDo: 'wait' } as const;
    expect(shownStep(run, { state: 'lost', run: 4, address: 'sim:', why }, 4)).toBe('measure');
  });
});
