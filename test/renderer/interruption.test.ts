import { expect, it } from 'vitest';
import type { MeterLink } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';
import { problem } from '../../core/problem/problem.ts';
import { interruptionOf } from '../../renderer/measure/interruption.ts';

const lost = (why: ReturnType<typeof problem>): MeterLink => ({
  state: 'lost',
  run: 1,
  address: 'tcp://192.0.2.7:5025',
  why: why.toJSON(),
});
const connected: MeterLink = { state: 'connected', run: 1, address: 'sim:', simulated: true };
const run = (interrupted: Run['interrupted'] = null) => ({ interrupted }) as Run;

it('promises that the run goes on by itself only while the station looks for the meter', () => {
  const away = interruptionOf(run(), lost(problem('meter-lost', 'the other side ended it')));
  expect(away?.toDo).toContain('goes on by itself');
  // After these the station has stopped looking (main/station/meterSeat.ts): somebody has to choose the meter again.
  for (const why of [
    problem('meter-other', 'Maker A,Model,1,1.0', 'Maker B,Model,2,1.0'),
    problem('setting-not-taken', 'range', '10 kΩ', '1 kΩ'),
  ]) {
    const given = interruptionOf(run(), lost(why));
    expect(given?.what).toBe(why.what);
    expect(given?.toDo).not.toContain('by itself');
    expect(given?.toDo).toContain('choose the meter again');
  }
});

it('also holds what the record says, and nothing while all is well', () => {
  const recorded = interruptionOf(run({ why: 'The meter is gone', at: '2026-03-02T10:00:00+01:00' }), connected);
  expect(recorded?.what).toBe('The meter is gone');
  expect(interruptionOf(run(), connected)).toBeNull();
});
