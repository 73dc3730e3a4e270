import type { Page } from 'playwright-core';
import { expect, it, onTestFinished, type TestContext } from 'vitest';
import type { InspectionEvent } from '../../core/inspection/event.ts';
import type { Bench } from '../../instruments/bench/bench.ts';
import { execute } from '../../instruments/bench/interpreter.ts';
import { trueOhms } from '../../instruments/bench/lot.ts';
import { serveBenchOnTcp } from '../../instruments/bench/serve.ts';
import { SOUNDS, type SoundName } from '../../renderer/sound/sounds.ts';
import { type Job, nextPiece, openStation, pieceAgain } from '../screens.ts';
import { goHandsFree, latencies, MOST_MILLISECONDS, readings, readyToMeasure, untilRead } from './handsFreeJob.ts';
import { observe, observedOn } from './observedPage.ts';

/** A reel of good pieces, whichever of them are drawn. */
const ALL_WITHIN = { shareOpen: 0, shareWrong: 0 };
/** A reel with some pieces well above the window. */
const SOME_ABOVE = { ...ALL_WITHIN, shareSecond: 0.02, secondOffsetPercent: 5 };
/**
 * The bench's own hands take 10 s to the first piece: by then the test has put one on the probes, and from then on they rest.
 */
const SLOW_HANDS = { piecesPerSecond: 0.05 };

/** So many readings take longer than leads must be open before a piece counts. */
const OPEN_READINGS = 8;
/** Long enough for a piece on the probes to be read several times. */
const NOTHING_MILLISECONDS = 500;

type Taken = Extract<InspectionEvent, { type: 'reading-taken' }>;

/** The example lot ready to be measured, with the test's hands at the bench. */
async function atBenchByHand(test: TestContext, lot: typeof ALL_WITHIN) {
  const scenario = { seed: 7, lot, hands: SLOW_HANDS };
  const { bench, address, close } = await serveBenchOnTcp({ host: '127.0.0.1', port: 0, scenario });
  onTestFinished(() => close());
  const job = await openStation(test, 'light', undefined, (page) => observe(page));
  await readyToMeasure(job, { address, alike: true });
  return { ...job, job, bench, ...handsAt(bench, job.page) };
}

function handsAt(bench: Bench, page: Page) {
  /** Takes the probes off, and waits until the next piece may be put on them. */
  const lift = async () => {
    bench.place('OPEN');
    await page.locator('.phase-armed').waitFor();
  };
  /** Takes the hands' place where capture has only begun: it must have seen the leads open for a moment. */
  const begin = async () => {
    await page.locator('.phase-armed').waitFor();
    bench.place('OPEN');
    let from: number | undefined;
    const shown = async () => {
      // While the meter changes its range it has no reading to give.
      const acquired = await bench.fetch().catch(() => null);
      from ??= acquired?.count;
      return acquired && from !== undefined ? acquired.count - from : 0;
    };
    await expect.poll(shown).toBeGreaterThan(OPEN_READINGS);
  };
  /** Puts the probes on a piece of the reel until it has counted, and takes them off; the reading. */
  const measure = async (position: number): Promise<Taken> => {
    const before = await readings(page);
    bench.place(position);
    await untilRead(page, before + 1);
    await lift();
    return newest(page);
  };
  return { lift, begin, measure };
}

/** The event of the last reading. */
async function newest(page: Page): Promise<Taken> {
  const last = (await observedOn(page)).events.findLast((event) => event.type === 'reading-taken');
  if (!last) throw new Error('nothing was read');
  return last;
}

/** Positions of the reel whose pieces lie within the window, or well above it. */
function positions(bench: Bench, where: 'within' | 'above'): number[] {
  const ohms = (at: number) => trueOhms(bench.scenario, at) ?? 0;
  const lies = where === 'within' ? (at: number) => Math.abs(ohms(at) - 4700) < 25 : (at: number) => ohms(at) > 4850;
  return Array.from({ length: 1000 }, (_, index) => index + 1).filter(lies);
}

/** Nothing is read for as long as several readings take. */
async function expectNothingRead(page: Page): Promise<void> {
  const before = await readings(page);
  await page.waitForTimeout(NOTHING_MILLISECONDS);
  expect(await readings(page)).toBe(before);
}

/** By keys: the next of the ways of taking readings is chosen. */
async function goToNextWay({ page, press }: Job, name: string): Promise<void> {
  await press('m');
  await page.getByRole('radio', { checked: true }).and(page.locator(':focus')).waitFor();
  await press('ArrowDown');
  await page.getByRole('radio', { name }).and(page.locator(':checked')).waitFor();
  await press('Enter');
  await page.locator('.phase').waitFor();
}

it('learns a foot switch, which takes readings and says open, and never acts while somebody writes', async (test) => {
  const { page, press, job, bench, begin } = await atBenchByHand(test, ALL_WITHIN);
  await press('m');
  const learn = page.getByRole('button', { name: 'Learn the foot switch' });
  await learn.click();
  await page.getByText('Press the switch now').waitFor();
  await press('v');
  await page.getByText('V does something else on this screen. Set the switch to another key').waitFor();
  await learn.click();
  await press('F9');
  await page.getByText('The foot switch of this computer sends F9.').waitFor();
  // In a dialog hands are at the keyboard.
  await press('F9', 'Escape');
  await page.getByRole('dialog').waitFor({ state: 'hidden' });
  await nextPiece(page, 1).waitFor();
  await press('F9');
  await nextPiece(page, 2).waitFor();
  expect(await readings(page)).toBe(1);

  // Another one, which sends a letter; what was learned before is a key like any other.
  await press('m');
  await page.getByRole('button', { name: 'Learn another foot switch' }).click();
  await press('x');
  await page.getByText('The foot switch of this computer sends X.').waitFor();
  await press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'hidden' });
  await press('F9');

  await press('v');
  await page.getByRole('dialog').waitFor();
  await press('3');
  const reason = page.getByLabel('Which reason');
  await reason.and(page.locator(':focus')).waitFor();
  await page.keyboard.type('next to x');
  expect(await reason.inputValue()).toBe('next to x');
  await press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'hidden' });
  await nextPiece(page, 2).waitFor();
  expect(await readings(page)).toBe(1);

  await page.reload();
  await nextPiece(page, 2).waitFor();
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  await press('x');
  await nextPiece(page, 3).waitFor();
  expect(await newest(page)).toMatchObject({ reading: 2, piece: 2, verdict: 'pass' });

  await goToNextWay(job, 'Hands-free');
  await begin();
  await page.getByRole('button', { name: /^This one is open.*\bX\b/ }).waitFor();
  await press('x');
  await page.locator('.phase-open-said').waitFor();
  await untilRead(page, 2);
  expect(await newest(page)).toMatchObject({ reading: 3, piece: 3, ohms: null, verdict: 'open' });

  // The meter's own trigger takes a reading, and this switch none.
  await goToNextWay(job, 'Meter’s trigger');
  await page.getByText('Waiting for the trigger').waitFor();
  const [position = 0] = positions(bench, 'within');
  bench.place(position);
  await press('x');
  await expectNothingRead(page);
  await expect.poll(() => bench.trigger.isWaiting).toBe(true);
  await execute(bench, 'BENC:TRIG');
  await untilRead(page, 3);
  const taken = await newest(page);
  expect(taken).toMatchObject({ reading: 4, piece: 4, verdict: 'pass' });
  expect(Math.abs(Number(taken.ohms) - (trueOhms(bench.scenario, position) ?? 0))).toBeLessThan(3);
  await nextPiece(page, 5).waitFor();
  await page.getByText('Waiting for the trigger').waitFor();
  // Once for each press.
  await expectNothingRead(page);

  await press('m', 'ArrowUp', 'ArrowUp', 'Enter');
  await page.getByRole('button', { name: 'Take reading' }).and(page.locator(':focus')).waitFor();
  await press('x');
  await nextPiece(page, 6).waitFor();
});

/** A tone: when it begins after the first one of its sound, and how long it lasts, both in milliseconds; its pitch. */
const toneOf = (from: number, lasts: number, hertz: number) => [
  Math.round(from * 1000),
  Math.round(lasts * 1000),
  hertz,
];
const soundsOf = (names: readonly SoundName[]) =>
  names.flatMap((name) => SOUNDS[name].map(({ at, lasts, hertz }) => toneOf(at, lasts, hertz)));

/** Tones of one sound are begun together. */
const TOGETHER_MILLISECONDS = 20;

/** Every tone that was begun, after so many. */
async function heard(page: Page, before = 0): Promise<number[][]> {
  const { tones } = await observedOn(page);
  let first = tones[before];
  return tones.slice(before).map((tone) => {
    if (tone.at - (first?.at ?? 0) > TOGETHER_MILLISECONDS) first = tone;
    return toneOf(tone.when - (first?.when ?? 0), tone.lasts ?? Number.POSITIVE_INFINITY, tone.hertz);
  });
}

it('sounds for contact, pass, fail and trouble by their rhythm, soon after each, and is silent when it is off', async (test) => {
  const { page, job, bench, lift, begin, measure } = await atBenchByHand(test, SOME_ABOVE);
  const [one = 0, two = 0] = positions(bench, 'within');
  const [above = 0] = positions(bench, 'above');
  await goHandsFree(job);
  await begin();
  const { length } = await heard(page);
  expect(await measure(one)).toMatchObject({ verdict: 'pass' });
  expect(await measure(above)).toMatchObject({ verdict: 'fail-high' });
  // The piece is changed and the leads were never open.
  bench.place(two);
  await untilRead(page, 3);
  bench.place(above);
  await page.getByText('The reading has moved away and the leads were').waitFor();
  const played = ['contact', 'pass', 'contact', 'fail', 'contact', 'pass', 'trouble'] as const;
  expect(await heard(page, length)).toEqual(soundsOf(played));
  await lift();

  const observed = await observedOn(page);
  // What is to begin at once has begun already in the browser, and has lost its edge and a part of a tick. A busy machine may.
  const ahead = observed.tones.map(({ after }) => after).toSorted((a, b) => a - b);
  expect(ahead[ahead.length >> 1]).toBeGreaterThan(0);
  expect(latencies(observed).at(-1)).toBeLessThan(MOST_MILLISECONDS);
  // By the clock of the computer: from the moment that stands in the record.
  const fromRecord = observed.events
    .filter((event) => event.type === 'reading-taken')
    .map(({ at }) => {
      const tone = observed.tones.find(
        ({ clock, hertz }) => clock >= Date.parse(at) && hertz !== SOUNDS.contact[0]?.hertz,
      );
      return tone ? tone.clock + Math.max(0, tone.after) - Date.parse(at) : Number.NaN;
    });
  console.info(`from captured to sound: ${fromRecord.map((milliseconds) => milliseconds.toFixed(0)).join(', ')} ms`);
  expect(fromRecord.toSorted((a, b) => a - b)[fromRecord.length >> 1]).toBeLessThan(MOST_MILLISECONDS);

  await page.getByRole('button', { name: 'Sound and look' }).click();
  await page.getByLabel(/^Sound: /).fill('0');
  await page.getByText('Sound: off').waitFor();
  await page.keyboard.press('Escape');
  const before = (await heard(page)).length;
  await measure(one);
  expect((await heard(page)).length).toBe(before);
  // Off is remembered, and then sound is not even asked of the browser.
  await page.reload();
  await begin();
  await measure(two);
  const { audio, tones } = await observedOn(page);
  expect({ audio, tones }).toEqual({ audio: 0, tones: [] });
});

it('says a position and voids hands-free: nothing counts behind a dialog, and a voided piece is asked for where it was', async (test) => {
  const { page, press, job, bench, begin, measure } = await atBenchByHand(test, SOME_ABOVE);
  const asked = async () => Number(((await page.locator('.measure-position').textContent()) ?? '').replace(/\D/g, ''));
  const [good = 0] = positions(bench, 'within');
  const [elsewhere = 0] = positions(bench, 'above');
  await goHandsFree(job);
  await begin();
  const first = await asked();
  // Which piece lies there is the hands' affair.
  expect(await measure(good)).toMatchObject({ piece: 1, position: first, verdict: 'pass' });

  await press('p');
  await page.getByRole('heading', { name: 'Where do you take piece 2?' }).waitFor();
  await page.locator('.phase-starting').waitFor();
  // The hands are at the keyboard: whatever touches the probes is no piece.
  bench.place(elsewhere);
  await expectNothingRead(page);
  await page.keyboard.type(String(elsewhere));
  await press('Enter');
  await page.getByText('as you say').waitFor();
  expect(await asked()).toBe(elsewhere);
  await begin();
  expect(await measure(elsewhere)).toMatchObject({ piece: 2, position: elsewhere, verdict: 'fail-high' });
  await nextPiece(page, 3).waitFor();

  const reasons = ['The contact slipped', 'It was the wrong piece', 'dropped it'];
  for (const [index, reason] of reasons.entries()) {
    await press('v');
    await page.getByRole('heading', { name: /^Void the reading of .*piece 2\?$/ }).waitFor();
    await press(String(index + 1));
    if (index === 2) {
      await page.getByLabel('Which reason').and(page.locator(':focus')).waitFor();
      await page.keyboard.type(reason);
      await press('Enter');
    }
    await page.getByRole('dialog').waitFor({ state: 'hidden' });
    await pieceAgain(page, 2).waitFor();
    expect(await asked()).toBe(elsewhere);
    expect(await page.locator('.reading-value').count()).toBe(0);
    await begin();
    expect(await measure(elsewhere)).toMatchObject({ reading: index + 3, piece: 2, position: elsewhere });
    await nextPiece(page, 3).waitFor();
  }
  // The record keeps all of them: each reading, and by whom and why it does not count.
  const { events } = await observedOn(page);
  expect(events.filter(({ type }) => type === 'reading-taken')).toHaveLength(2 + reasons.length);
  expect(events.filter(({ type }) => type === 'reading-voided')).toEqual(
    reasons.map((reason, index) => expect.objectContaining({ reading: index + 2, reason, by: 'Newcomer' })),
  );
});
