import { describe, expect, test } from 'vitest';
import { captureWords } from '../../../core/capture/captureWords.ts';
import { paceOf } from '../../../core/capture/pace.ts';
import { settingFor } from '../../../core/capture/setting.ts';
import { readingsOf } from './circuit.ts';
import { Dice } from './dice.ts';
import { Hands } from './hands.ts';
import { KINDS, type Kind } from './kinds.ts';
import { play } from './play.ts';
import { runOfKind, settingForKind } from './settingForKind.ts';

const PIECES = 150;
/** Leads of 1 nF are what is reckoned with; whoever has longer ones waits for the sound. */
const USUAL = KINDS.filter(({ meter }) => meter.farads === 1e-9);
const named = (name: string) => KINDS.find((one) => one.name === name) as Kind;

/** How many of so many pieces are settled that are held and lifted for so long, whether counted or asked for again. */
function settledAt(kind: Kind, holdMilliseconds: number, apartMilliseconds: number): number {
  const dice = new Dice(11);
  const hands = new Hands(dice);
  hands.apart(1200 + 2 * apartMilliseconds);
  for (let piece = 0; piece < PIECES; piece++) {
    hands.hold(Math.max(0, kind.nominalOhms + dice.normal(kind.toleranceOhms / 4)), holdMilliseconds);
    hands.apart(apartMilliseconds);
  }
  const { happened } = play(readingsOf(hands.between, hands.now, kind.meter, dice), settingForKind(kind));
  return happened.filter(
    ({ outcome }) => outcome.kind === 'captured' || (outcome.kind === 'trouble' && outcome.why === 'same-again'),
  ).length;
}

describe('at the pace that is stated', () => {
  test.each(USUAL)('no piece is missed: $name', (kind) => {
    const { holdMilliseconds, apartMilliseconds } = paceOf(settingForKind(kind));
    expect(settledAt(kind, holdMilliseconds, apartMilliseconds)).toBe(PIECES);
  });

  test.each(USUAL)('no room is wasted, pieces are missed at twice the pace: $name', (kind) => {
    const { holdMilliseconds, apartMilliseconds } = paceOf(settingForKind(kind));
    expect(settledAt(kind, holdMilliseconds / 2, apartMilliseconds / 2)).toBeLessThan(PIECES / 2);
  });
});

describe('the pace in words', () => {
  const said = (kind: Kind, readingsPerSecond: number) =>
    captureWords(settingFor(runOfKind(kind), {}, 1000 / readingsPerSecond))[0] ?? '';

  test('keeps up with two pieces a second at 22 readings a second, and says no more where it does', () => {
    expect(said(named('4.7 kΩ ±1 %'), 22)).toBe(
      'With about 22 readings a second it keeps up with 2.2 pieces a second: each held for 0.19 s, the leads apart for 0.26 s.',
    );
    expect(
      paceOf(settingFor(runOfKind(named('1.1 MΩ ±10 %, range chosen by the meter')), {}, 40)).piecesPerSecond,
    ).toBeGreaterThan(2);
  });

  test('says what makes it slow', () => {
    expect(said(named('4.7 kΩ ±1 %'), 2.5)).toContain('0.38 pieces a second');
    expect(said(named('4.7 kΩ ±1 %'), 2.5)).toContain('Fewer mains cycles for each reading make it quicker.');
    expect(said(named('100 MΩ ±10 %'), 20)).toContain('So high a value takes that time.');
  });

  test('knows the pace of a meter that was not timed from its mains cycles', () => {
    const run = runOfKind(named('4.7 kΩ ±1 %'));
    const { meter } = run;
    const readingOf = (integrationCycles: string) =>
      settingFor({ ...run, meter: meter && { ...meter, setting: { ...meter.setting, integrationCycles } } })
        .readingMilliseconds;
    expect(readingOf('1')).toBe(45);
    expect(readingOf('10')).toBe(405);
    // A meter that talks by itself says nothing of them.
    expect(readingOf('0')).toBe(45);
  });
});
