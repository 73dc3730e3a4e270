import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { look, lookBothWays } from '../chromium.ts';
import { tabTo } from '../keyboard.ts';
import { openStation } from '../screens.ts';
import { asOnScreen, whatIsCut } from './fitsOnScreen.ts';

/** Invented. Between in and out 1 kΩ: the bridge is balanced, and R5 carries nothing. */
const BRIDGE = [
  'tolerance 1%',
  'R1 in left 1k',
  'R2 in right 1k',
  'R3 left out 1k',
  'R4 right out 1k',
  'R5 left right 330',
  'between in out',
];

async function type(page: Page, lines: readonly string[]): Promise<void> {
  await tabTo(page, page.getByLabel('Description'));
  await page.keyboard.insertText(lines.join('\n'));
}

it('works out a bridge as it is typed, and names what explains a reading, by keyboard alone', async (test) => {
  const { page, press } = await openStation(test);
  await press('w');
  await page.getByRole('heading', { name: 'Networks' }).waitFor();
  await page.getByLabel('Description').and(page.locator(':focus')).waitFor();
  await lookBothWays(page, 'networks-1-empty');

  await page.keyboard.type(BRIDGE.slice(0, 2).join('\n'));
  await page.keyboard.type('\nR2 in right');
  await page.getByText('Line 3 of the network: a line is NAME NODE NODE VALUE TOLERANCE').waitFor();
  await lookBothWays(page, 'networks-2-wrong');
  await press('Control+a');
  await page.keyboard.insertText(BRIDGE.join('\n'));

  const expected = page.getByRole('region', { name: 'Expected' });
  await expected.getByText('0.99 kΩ to 1.01 kΩ (±1.00 %)').waitFor();
  expect(await expected.locator('.network-nominal').textContent()).toBe('1\u00a0kΩ');
  await expected.getByText('0.995 kΩ to 1.005 kΩ').waitFor();
  await page.getByRole('img', { name: 'Network of 5 resistors between in and out' }).waitFor();

  await tabTo(page, page.getByLabel('Measured', { exact: true }));
  await page.keyboard.type('1,2k');
  await press('Tab');
  await page.getByText('"1,2k" is not a resistance').waitFor();
  await press('Shift+Tab', 'Control+a');
  // R1 open: R2, with R3 and R5 beside R4: 1000 + 1000 · 1330 / 2330.
  await page.keyboard.type('1571');
  await expected.getByText('Fail high').waitFor();
  const explains = page.getByRole('region', { name: 'What explains the reading' });
  await explains.getByText('This reading cannot tell between these 4.').waitFor();
  await tabTo(page, explains.getByRole('row', { name: /^R1 open/ }));
  await page.locator('.network-shown').waitFor();
  expect(await page.locator('.network-suspect').count()).toBe(4);
  await lookBothWays(page, 'networks-3-fault');
  await press('ArrowDown');
  await explains
    .getByRole('row', { name: /^R2 open/ })
    .and(page.locator(':focus'))
    .waitFor();

  const faults = page.getByRole('region', { name: 'Opens and shorts' });
  expect(await faults.getByRole('row', { name: /^R1 open/ }).textContent()).toMatch(
    /1\.5708\skΩ.*Always.*cannot be told apart from R2 open, R3 open, R4 open$/,
  );
  expect(await faults.getByRole('row', { name: /^R5 open/ }).textContent()).toMatch(/Never/);
  const inCircuit = page.getByRole('region', { name: 'Measured in circuit' });
  expect(await inCircuit.getByRole('row', { name: /^R5 / }).textContent()).toMatch(
    /248\.12\sΩ.*1\skΩlift its end at left/,
  );

  await tabTo(page, page.getByLabel('Measured', { exact: true }), 'Shift+Tab');
  await press('Control+a');
  await page.keyboard.type('open');
  await page.getByText('No single fault explains this reading.').waitFor();

  for (const [width, height] of [
    [1280, 720],
    [640, 360],
  ] as const) {
    await asOnScreen(page, width, height);
    expect(await whatIsCut(page), `${width} × ${height}`).toEqual([]);
    await look(page, `networks-4-${width}`);
  }
  await asOnScreen(page, 1280, 720);
  await page.emulateMedia({ media: 'print' });
  await page.getByRole('region', { name: 'What is to be read' }).getByText('0.99 kΩ to 1.01 kΩ').waitFor();
  expect(await page.getByRole('button').count()).toBe(0);
  await look(page, 'networks-4-printed');
});

it('keeps what was described, warns of sources left, and fills in a lot of such networks', async (test) => {
  const { page, press } = await openStation(test, 'dark');
  await press('w');
  await page.getByLabel('Description').waitFor();
  await type(page, ['Ra in mid 1k 1%', 'Rb mid out 1k 1%', 'V1 mid out 5V 10', 'between in out']);
  const sources = page.getByRole('region', { name: 'Sources left connected' });
  await sources.getByText('Disconnect V1 and discharge what is stored first.').waitFor();
  await sources.getByText('V between in and out, in being the positive one').waitFor();
  await lookBothWays(page, 'networks-5-sources');
  await tabTo(page, page.getByLabel('To node'));
  await page.keyboard.type('in');
  await page.getByText('Both are the same node.').waitFor();
  await press('ArrowDown', 'ArrowDown');
  await tabTo(page, page.getByRole('button', { name: 'Inspect a lot of these' }));
  await press('Enter');
  await page.getByRole('heading', { name: 'Receive a lot' }).waitFor();
  expect(await page.getByLabel('Nominal value').inputValue()).toBe('2 kΩ');
  expect(await page.getByLabel('Tolerance').inputValue()).toBe('1980 Ω to 2020 Ω');
  await page.getByLabel('Lot number').fill('L-77');

  await page.evaluate("location.hash = '#/networks'");
  await page.getByText('This form is as you left it.').waitFor();
  expect(await page.getByLabel('Description').inputValue()).toMatch(/^Ra in mid 1k 1%\n/);
  await page.getByRole('button', { name: 'Inspect a lot of these' }).click();
  await page.getByRole('dialog', { name: 'Fill in the form that was begun?' }).waitFor();
  await look(page, 'networks-6-begun');
  await page.getByRole('button', { name: 'Fill in the part' }).click();
  expect(await page.getByLabel('Lot number').inputValue()).toBe('L-77');
});

it('fills in examples, and draws each', async (test) => {
  const { page, press } = await openStation(test);
  await press('w');
  await page.getByRole('button', { name: 'Fill in an example: a divider' }).click();
  await page.getByRole('img', { name: 'Network of 3 resistors between in and gnd' }).waitFor();
  await page.locator('.network-drawing').scrollIntoViewIfNeeded();
  await look(page, 'networks-7-divider');
  for (const [name, drawn] of [
    ['a bridge', 'Network of 5 resistors between top and bottom'],
    ['an R-2R ladder', 'Network of 8 resistors between a and 0'],
  ] as const) {
    await page.getByRole('button', { name: `Fill in an example: ${name}` }).click();
    await page.getByRole('button', { name: 'Fill in the example' }).click();
    await page.getByRole('img', { name: drawn }).waitFor();
    await page.locator('.network-drawing').scrollIntoViewIfNeeded();
    await look(page, `networks-7-${name.replaceAll(' ', '-')}`);
  }
  await page.getByText('How it is written').click();
  await lookBothWays(page, 'networks-8-grammar');
  await page.getByLabel('Description').fill(Array.from({ length: 210 }, () => '1k 1%').join(' + '));
  await page.getByText('A network of more than 40 resistors and sources is not drawn').waitFor();
  await page.getByText('The first 200 of 420; 220 more are not shown.').waitFor();
  const long = 'a-node-with-a-name-of-forty-letters-long';
  await page
    .getByLabel('Description')
    .fill(`A-resistor-with-a-very-long-name-indeed in ${long} 1k 1%\nR2 ${long} out 0`);
  await page.getByRole('img', { name: 'Network of 2 resistors between in and out' }).waitFor();
  await asOnScreen(page, 640, 360);
  expect(await whatIsCut(page)).toEqual([]);
  await look(page, 'networks-9-long');
});
