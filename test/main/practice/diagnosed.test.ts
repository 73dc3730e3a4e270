import { expect, it } from 'vitest';
import { lotCauses } from '../../../core/diagnosis/lotCauses.ts';
import { oddLotOf } from '../../../core/inspection/oddLotOf.ts';
import { Played } from './played.ts';

/** What the figures of the lot say of exercises that are measured as they lie there: through station, SCPI and record. */
it.each<[string, string]>([
  ['first-reel', 'none'],
  ['new-reel', 'decade slip'],
  ['thirty-two-pieces', 'mixed reel'],
  ['fifty-pieces', 'sorted lot'],
  ['eight-boards', 'a path beside each piece'],
  ['high-values', 'fingers on the tips'],
])('of %s says: %s', async (name, cause) => {
  const played = await Played.begin(name);
  await played.through();
  const causes = lotCauses(oddLotOf(await played.now()));
  expect(causes[0]?.cause ?? 'none').toBe(cause);
});

it.each([
  ['a meter that drifts', 'twenty-pieces', 'meter drift'],
  ['a lead that broke', 'bench-by-the-window', 'broken lead'],
] as const)(
  'of %s says so while its readings are suspect, and no more once the pieces were measured again',
  async (_, name, cause) => {
    const played = await Played.begin(name);
    await played.checks();
    await played.read();
    expect(await played.checks()).not.toBeNull();
    const said = async () => lotCauses(oddLotOf(await played.now())).map((one) => one.cause);
    expect((await said())[0]).toBe(cause);
    await played.through(name === 'twenty-pieces' ? 'let the meter warm up' : 'change the leads');
    expect(await said()).toEqual([]);
  },
);
