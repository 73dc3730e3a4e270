import { describe, expect, it } from 'vitest';
import { guardOf } from '../../renderer/windowBar/guardOf.ts';
import { confirmedRun, readyRun, walk, withReadings } from '../core/inspection/walk.ts';

const GUARDED = { decision: { rule: 'guard-band' } } as const;

describe('the guard bands of a run', () => {
  it('are of no reading with simple acceptance', () => {
    expect(guardOf(withReadings(readyRun(), '+4.70000E+03')).expandedOhms).toBeNull();
  });

  it('are not known before the bench was shown anything', () => {
    expect(guardOf(confirmedRun(GUARDED)).expandedOhms).toBeNull();
  });

  it('are those a reading of the nominal value would have, before the first one', () => {
    const run = readyRun(GUARDED);
    const before = guardOf(run).expandedOhms;
    expect(before).not.toBeNull();
    // 4.70000 kΩ is what is expected, with as many digits as the reference was read with.
    const read = withReadings(run, '+4.70000E+03');
    expect(read.readings.first()?.uncertainty?.expandedOhms).toBe(before);
  });

  it('are those of the last reading that counts', () => {
    const run = withReadings(readyRun(GUARDED), '+4.70000E+03', '+4.70000E+03', '+9.90000000E+37');
    const last = run.readings.get(1)?.uncertainty?.expandedOhms;
    expect(guardOf(run).expandedOhms).toBe(last);
    const voided = walk(run, { type: 'void-reading', reading: 2, by: 'Ines Okoro', reason: 'slipped' });
    expect(guardOf(voided).expandedOhms).toBe(run.readings.first()?.uncertainty?.expandedOhms);
  });
});
