import type { Page } from '@playwright/test';
import type { Survey } from '../../src/core/survey.ts';
import { makeSurvey } from '../truth/survey.ts';
import { expect, expectSound, goTo, test } from './watch.ts';

const { survey } = makeSurvey(11, 'stepped', { levels: [400, 1900], plumbs: [1200], everyPx: 4 });

async function open(page: Page, opened: Survey): Promise<void> {
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles({
    name: 'survey.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(opened)),
  });
  await expect(page.getByRole('link', { name: /^Surveys, open now/ })).toContainText(opened.title);
  await goTo(page, 'Lining');
}

const parts = (page: Page) => page.getByRole('navigation', { name: 'Parts of the lining' });
const isPlanned = (page: Page) =>
  expect(page.getByRole('main').getByText('Bed plane, boards and screws set out')).toBeVisible({
    timeout: 90_000,
  });

test('the parts have addresses of their own, are reached by keyboard, and are sound wide and narrow; chances and high spots are shown and picked', async ({
  page,
}) => {
  test.setTimeout(240_000);
  await open(page, survey);
  await isPlanned(page);
  await expect(page.getByRole('heading', { name: 'The plan in short' })).toBeVisible();
  const names = ['Plane and bed', 'Boards', 'Gauge screws', 'Adhesive', 'Order of work', 'Settings'];
  for (const [width, height] of [
    [1440, 900],
    [390, 844],
  ] as const) {
    const colours = width === 1440;
    await page.setViewportSize({ width, height });
    for (const name of names) {
      await parts(page).getByRole('link', { name }).focus();
      await page.keyboard.press('Enter');
      await expect(parts(page).getByRole('link', { name })).toHaveAttribute('aria-current', 'page');
      // the other parts are looked at where they are worked with: boards.spec, work.spec
      if (name === 'Plane and bed') await expectSound(page, `${name} at ${width} px`, { colours });
    }
    await parts(page).getByRole('link', { name: 'Overview' }).click();
    await expectSound(page, `overview at ${width} px`, { colours });
  }
  await parts(page).getByRole('link', { name: 'Plane and bed' }).click();
  await page.reload();
  await expect(page).toHaveURL(/#lining\/plane$/);
  await expect(page.getByRole('heading', { name: 'Where the boards stand' })).toBeVisible();

  await page.setViewportSize({ width: 1440, height: 900 });
  await test.step('the chances of the bed are shown by a switch, each with what it means', async () => {
    for (const [choice, picture, words] of [
      ['Too thin?', 'Where the bed may be too thin', 'thick enough'],
      ['Packing?', 'Where packing may be needed', 'packing'],
      ['Too deep?', 'Where the wall may be too deep for dabs', 'dabs will do'],
    ] as const) {
      await page.getByRole('button', { name: choice }).click();
      await expect(page.getByRole('img', { name: picture })).toContainText(words);
      await expectSound(page, choice);
    }
    await page.getByRole('button', { name: 'Bed', exact: true }).click();
  });

  await test.step('high spots are picked in the table and on the chart, drawn on the plan, and left again', async () => {
    const spots = page.getByRole('region', { name: 'High spots' });
    const rows = spots.getByRole('row');
    const meanBed = async (row: number) => Number(await rows.nth(row).getByRole('cell').nth(1).innerText());
    expect(await meanBed(2)).toBeLessThan(await meanBed(1));
    const plan = page.getByRole('img', { name: /^Plan of the lining/ });

    await spots.getByRole('button', { name: 'Hack off 1', exact: true }).focus();
    await page.keyboard.press('Enter');
    await expect(plan).toContainText('spot to hack off first', { timeout: 60_000 });
    const leave = spots.getByRole('button', { name: /^Leave the spot/ });
    await expect(leave).toHaveCount(1);
    await expect(spots).toContainText(/off at the deepest/);
    const before = await meanBed(1);
    const wished = await meanBed(2);
    await expect(page.getByRole('region', { name: 'Where the boards stand' })).toContainText(
      `${wished} mm on the whole`,
    );
    expect(wished).toBeLessThan(before);
    await expectSound(page, 'one spot picked');

    await leave.click();
    await expect(spots.getByRole('button', { name: 'Hack off none' })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
    await expect(plan).not.toContainText('spot to hack off first', { timeout: 60_000 });

    const chart = spots.getByRole('img', { name: /^Chart of mean bed/ });
    const box = (await chart.boundingBox())!;
    await chart.click({ position: { x: box.width - 30, y: box.height / 2 } });
    await expect(rows.last().getByRole('button')).toHaveAttribute('aria-pressed', 'true');
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect(spots.getByRole('button', { name: 'Hack off none' })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
  });
});

test('wishes turn the plane, one undo step each; what cannot be kept is named with what would do', async ({
  page,
}) => {
  test.setTimeout(240_000);
  await open(page, survey);
  await parts(page).getByRole('link', { name: 'Plane and bed' }).click();
  await isPlanned(page);
  const stands = page.getByRole('region', { name: 'Where the boards stand' });

  await test.step('parallel to the laser is one number for all screws, and undo takes it back', async () => {
    await page.getByRole('button', { name: 'Parallel to the laser' }).click();
    await expect(stands).toContainText("parallel to the laser's plane", { timeout: 60_000 });
    await expect(page.getByText(/All screw heads stand [\d.]+ mm behind the laser's plane/)).toBeVisible();
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect(page.getByRole('button', { name: 'Free', exact: true })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
    await expect(stands).toContainText('the right end further', { timeout: 60_000 });
  });

  await test.step('square to a wall, from two offsets', async () => {
    await page.getByRole('button', { name: 'Square to a wall' }).click();
    await page.getByText('Measure it').click();
    await page.getByLabel('Near this wall').fill('500');
    await page.getByLabel('Further into the room').fill('506');
    await page.getByLabel('Further into the room').blur();
    await page.getByRole('button', { name: 'Take it over' }).click();
    await expect(page.getByLabel('Right end further out, per metre along')).toHaveValue('3');
    await expect(stands).toContainText('3.0 mm per m, the right end further out', { timeout: 60_000 });
    await expectSound(page, 'square to a wall');
    await page.getByRole('button', { name: 'Free', exact: true }).click();
    await isPlanned(page);
  });

  await test.step('a face behind the masonry cannot be met: missed by so much, and more tolerance would do', async () => {
    await page.getByRole('button', { name: 'Add a face' }).click();
    const fresh = page.getByRole('group', { name: 'A new face' });
    await expect(fresh.getByRole('button', { name: 'Add it' })).toBeDisabled();
    await fresh.getByLabel('From the left').fill('1200');
    await fresh.getByLabel('From the floor').fill('1000');
    await fresh.getByLabel("Laser's plane to its face").fill('40');
    await fresh.getByLabel("Laser's plane to its face").blur();
    await fresh.getByRole('button', { name: 'Add it' }).click();
    const report = page.getByRole('region', { name: 'Not all wishes can be kept together' });
    await expect(report).toContainText(/Door lining m1 Missed by [\d.]+ mm/, { timeout: 60_000 });
    await expectSound(page, 'a wish that is missed');
    await report.getByRole('listitem').filter({ hasText: 'off flush' }).getByRole('button').click();
    await expect(page.getByRole('region', { name: 'All wishes are kept' })).toBeVisible({ timeout: 60_000 });
    await page.getByRole('button', { name: 'Take away door lining m1' }).click();
    await expect(page.getByText(/^None\. A door lining/)).toBeVisible();
  });
});

test('without evidence every part says what to bring, and the wishes can be set', async ({ page }) => {
  await open(page, { ...survey, readings: [], photos: [] });
  for (const name of ['Overview', 'Boards', 'Gauge screws', 'Adhesive', 'Order of work']) {
    await parts(page).getByRole('link', { name }).click();
    await expect(page.getByText(`${name}: shown once the wall is measured`)).toBeVisible();
    await expectSound(page, `${name}, empty`);
  }
  await parts(page).getByRole('link', { name: 'Plane and bed' }).click();
  await page.getByRole('button', { name: '2 sigmas' }).click();
  await expect(page.getByText(/39 times in 40/)).toBeVisible();
  await expectSound(page, 'plane, empty');
});

test('a wall that is all opening is refused with what to put right', async ({ page }) => {
  const { width, height } = survey.wall;
  const opening = { id: 'o9', kind: 'door', along: 0, up: 0, width, height };
  await open(page, { ...survey, photos: [], wall: { ...survey.wall, openings: [opening], boxes: [] } });
  await expect(page.getByText(/No part of the wall is left to line/).first()).toBeVisible({
    timeout: 60_000,
  });
  await expectSound(page, 'refused');
});
