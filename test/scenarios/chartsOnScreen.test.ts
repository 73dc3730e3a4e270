import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it, type TestContext } from 'vitest';
import type { LotClaimInput } from '../../core/inspection/lotClaim.ts';
import { checkDue } from '../../core/inspection/run.ts';
import { openRecord } from '../../main/record/record.ts';
import { openStation as station } from '../../main/station/station.ts';
import { look } from '../chromium.ts';
import { exampleLot } from '../exampleLot.ts';
import { quickBench } from '../quickBench.ts';
import { checkBench, readyBench, runOf } from '../readyBench.ts';
import { openStation } from '../screens.ts';
import { temporaryFolder } from '../temporaryFolder.ts';

/** The page of a run with so many readings from the simulated bench, some of them out of the window. */
async function measured(
  test: TestContext,
  readings: number,
  address: string,
  scheme: 'light' | 'dark',
  positions: NonNullable<LotClaimInput['positions']>,
): Promise<Page> {
  const folder = temporaryFolder();
  const there = station({
    folders: { data: folder, certificates: folder },
    version: 'test',
    record: openRecord(folder),
  });
  try {
    const { run } = await there.ask('receive-lot', {
      claim: { ...exampleLot({ sampleSize: 200, accept: 150 }), positions },
    });
    await readyBench(there, run, await quickBench(await runOf(there, run), address));
    for (let taken = 0; taken < readings; taken++) {
      if (checkDue(await runOf(there, run)) !== null) await checkBench(there, run);
      await there.ask('take-reading', { run });
    }
  } finally {
    await there.close();
  }
  const { page } = await openStation(test, scheme, folder);
  await page.evaluate("location.hash = '#/run/1/figures'");
  await page.getByRole('heading', { level: 1 }).and(page.locator(':focus')).waitFor();
  return page;
}

it('goes nearer and along by keys, draws it anew, and shows its table a page at a time', async (test) => {
  const page = await measured(test, 120, 'sim:3?reel=drifting', 'light', { kind: 'as-taken' });
  const singles = page.locator('figure').filter({ hasText: 'Control chart of single readings' });
  const line = singles.locator('path.chart-line');
  await line.waitFor();
  const whole = await line.getAttribute('d');
  const strip = singles.getByRole('slider');
  expect(await strip.getAttribute('aria-valuetext')).toMatch(/1 to 120 of 120$/);
  await strip.focus();
  await page.keyboard.press('+');
  expect(await strip.getAttribute('aria-valuetext')).toMatch(/31 to 90 of 120$/);
  await expect.poll(() => line.getAttribute('d')).not.toBe(whole);
  await page.keyboard.press('End');
  expect(await strip.getAttribute('aria-valuetext')).toMatch(/61 to 120 of 120$/);
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Home');
  expect(await strip.getAttribute('aria-valuetext')).toMatch(/1 to 60 of 120$/);
  // None of these keys was one of the page's.
  expect(page.url()).toMatch(/figures$/);
  await look(page, 'chart-nearer');
  await page.keyboard.press('-');
  await expect.poll(() => line.getAttribute('d')).toBe(whole);

  // By hand: a stretch is drawn in the strip, and moved.
  const box = await strip.boundingBox();
  if (!box) throw new Error('the strip is not seen');
  await page.mouse.move(box.x + box.width * 0.25, box.y + 10);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.5, box.y + 10, { steps: 8 });
  await page.mouse.up();
  await expect.poll(() => strip.getAttribute('aria-valuetext')).toMatch(/3\d to (59|60) of 120$/);
  await page.mouse.move(box.x + box.width * 0.375, box.y + 10);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width, box.y + 10, { steps: 8 });
  await page.mouse.up();
  await expect.poll(() => strip.getAttribute('aria-valuetext')).toMatch(/ to 120 of 120$/);
});

it('saves a chart as a picture that needs nothing beside it, and copies it', async (test) => {
  const page = await measured(test, 30, 'sim:7', 'dark', { kind: 'random', seed: 7 });
  const map = page.locator('figure').filter({ hasText: 'Map of the reel' });
  await map.locator('path.chart-dots').waitFor();
  await map.getByText('As a picture').click();
  await look(page, 'chart-picture');
  const download = page.waitForEvent('download');
  await map.getByRole('button', { name: 'Save SVG' }).click();
  const svg = readFileSync(await (await download).path(), 'utf8');
  expect((await download).suggestedFilename()).toMatch(/Map-of-the-reel.*\.svg$/);
  // No style sheet, no class, no variable, no address: it is the same wherever it is opened.
  expect(svg).not.toMatch(/var\(|class=|href=|url\("?http/);
  expect(svg).toContain('data:font/woff2;base64,');
  expect(svg).toMatch(/<title>Map of the reel[^<]*<\/title>/);
  // White ground has dark ink, although the screen is dark.
  expect(svg).toContain('fill="#ffffff"/>');
  expect(svg).toMatch(/<text [^>]*fill="rgb\(20, 24, 26\)"/);
  // It is well-formed, and a browser draws it.
  const drawn = await page.evaluate<number[]>(`(async () => {
    const image = new Image();
    image.src = URL.createObjectURL(new Blob([${JSON.stringify(svg)}], { type: 'image/svg+xml' }));
    await image.decode();
    return [image.width, image.height];
  })()`);
  expect(Math.min(...drawn)).toBeGreaterThan(100);

  const png = page.waitForEvent('download');
  await map.getByRole('button', { name: 'Save PNG' }).click();
  const bytes = readFileSync(await (await png).path());
  expect(bytes.subarray(1, 4).toString()).toBe('PNG');
  // Three pixels for each of the drawing.
  expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual(drawn.map((size) => 3 * size));

  await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await map.getByRole('button', { name: 'Copy' }).click();
  await map.getByText('Copied.').waitFor();
  const types = await page.evaluate('navigator.clipboard.read().then(([item]) => item.types)');
  expect(types).toContain('image/png');
});

it('shows how sure a plan is before the lot is received', async (test) => {
  const { page } = await openStation(test);
  await page.evaluate("location.hash = '#/receive'");
  await page.getByLabel('Pieces in the lot').fill('5000');
  await page.getByText('How sure is this plan').click();
  await page.locator('.how-sure path.chart-line').waitFor();
  await page.getByText('still one in ten').waitFor();
  await page.getByText('Curve as a table').click();
  await expect.poll(() => page.locator('.how-sure').getByRole('row').count()).toBe(10);
  await page.locator('.how-sure').scrollIntoViewIfNeeded();
  await look(page, 'plan-curve');
  expect(await page.locator('main').textContent()).not.toMatch(/NaN|Infinity|undefined/);
});
