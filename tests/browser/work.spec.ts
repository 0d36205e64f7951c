import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { openFoundSample } from './foundSample.ts';
import { expect, expectSoundAtBoth, goTo, test } from './watch.ts';

async function openPlan(page: Page, part: string): Promise<void> {
  await openFoundSample(page);
  await page.goto(`/#lining/${part}`);
}

const expectSoundEverywhere = (page: Page, where: string) =>
  expectSoundAtBoth(page, where, ['screen', 'print']);

test('mixes and steps are ticked off in one place and the other, and the order of work prints on a page', async ({
  page,
}) => {
  test.setTimeout(300_000);
  await openPlan(page, 'adhesive');
  await expect(page.getByRole('heading', { name: 'To bring' })).toBeVisible({ timeout: 120_000 });
  const planning = page.getByText('Planning the lining');
  const undo = page.getByRole('button', { name: 'Undo' }).first();

  await test.step('the mixes add up to what is brought', async () => {
    const rows = page.getByRole('region', { name: 'Mixes' }).locator('tbody tr');
    const kilograms = await rows.locator('td.number:nth-child(4)').allInnerTexts();
    expect(kilograms.length).toBeGreaterThan(1);
    const sumKg = kilograms.reduce((sum, text) => sum + Number(text), 0);
    const bring = await page.getByRole('region', { name: 'Adhesive to bring' }).innerText();
    const bringKg = Number(/(\d+) kg: \d+ bags?/.exec(bring)?.[1]);
    // whole kilograms against tenths
    expect(Math.abs(sumKg - bringKg)).toBeLessThan(0.5 + 0.05 * kilograms.length);
    await expectSoundEverywhere(page, 'adhesive');
  });

  await test.step('a mix ticked off is a step ticked off, without a new plan', async () => {
    await page.getByLabel('Mix 1 is done').check();
    await expect(page.getByText('1 of', { exact: false }).first()).toBeVisible();
    await expect(planning).toHaveCount(0);
    await page.goto('/#lining/work');
    await expect(page.getByText(/^1 of \d+ done\.$/)).toBeVisible();
    await page.getByLabel('Step 1 is done').check();
    await expect(page.getByText(/^2 of \d+ done\.$/)).toBeVisible();
    await expect(planning).toHaveCount(0);
    await undo.click();
    await expect(page.getByText(/^1 of \d+ done\.$/)).toBeVisible();
    await undo.click();
    await expect(page.getByText(/^0 of \d+ done\.$/)).toBeVisible();
    await expectSoundEverywhere(page, 'order of work');
  });

  await test.step('on paper it is this sheet alone, on one A4 page', async () => {
    await page.emulateMedia({ media: 'print' });
    await expect(page.getByText(/^Printed .*\. Bedplane \d/)).toBeVisible();
    await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^Order of work: Old dairy/);
    const text = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect([...text.matchAll(/\/Type\s*\/Page\b/g)].length).toBe(1);
    expect(text).toMatch(/\/MediaBox\s*\[0 0 59[45][.\d]* 84[12][.\d]*\]/);
    await page.emulateMedia({ media: 'screen' });
  });

  await test.step('the papers lead to the sheets, and the cut list is a file', async () => {
    await goTo(page, 'Papers');
    await expect(page.getByRole('link', { name: /^Order of work/ })).toHaveAttribute('href', '#lining/work');
    const waiting = page.waitForEvent('download');
    await page.getByRole('button', { name: /^Cut list, CSV/ }).click();
    const download = await waiting;
    expect(download.suggestedFilename()).toBe('cuts-Old-dairy-workshop-north-wall.csv');
    const lines = readFileSync(await download.path(), 'utf8').split('\r\n');
    expect(lines[0]).toBe('sheet,piece,x_mm,y_mm,width_mm,length_mm,turn_deg,mass_kg');
    expect(lines.length).toBeGreaterThan(3);
    await expectSoundEverywhere(page, 'papers');
    await page.getByRole('link', { name: /^Order of work/ }).click();
    await expect(page.getByRole('heading', { level: 2, name: /^Order of work: / })).toBeVisible();
  });
});

test('settings are found, changed, put back and kept as a profile for the next wall', async ({ page }) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Width of the wall').fill('3600');
  await page.getByLabel('Height of the wall').fill('2450');
  await page.getByLabel('Height of the wall').blur();
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await page.goto('/#lining/settings');
  const undo = page.getByRole('button', { name: 'Undo' }).first();
  const gap = page.getByLabel(/^Gap under the boards/);
  const waste = page.getByLabel(/^Adhesive mixed but not pressed/);
  const find = page.getByLabel('Find a setting by a word');

  await test.step('one is found by a word and changed: one step', async () => {
    await find.fill('gap');
    await expect(waste).toHaveCount(0);
    await gap.fill('15');
    await gap.blur();
    await expect(page.getByText('1 yours, the others')).toBeVisible();
    await undo.click();
    await expect(gap).toHaveValue('12');
    await expect(page.getByText('All as usual in the trade.')).toBeVisible();
    await find.fill('');
  });

  await test.step('beyond its limits it is told, and stays as it was', async () => {
    await gap.fill('90');
    await gap.blur();
    await expect(page.getByRole('alert').filter({ hasText: 'From 0 to 40 mm' })).toBeVisible();
    await waste.fill('80');
    await waste.blur();
    await expect(page.getByRole('alert').filter({ hasText: 'From 0 % to 50 %' })).toBeVisible();
    await expect(page.getByText('All as usual in the trade.')).toBeVisible();
    await expectSoundEverywhere(page, 'settings with faults');
    await gap.fill('15');
    await gap.blur();
    await waste.fill('20');
    await waste.blur();
    await expect(page.getByText('2 yours, the others')).toBeVisible();
  });

  await test.step('a word that no setting has says so; only those of one’s own are shown', async () => {
    await find.fill('submarine');
    await expect(page.getByText('No setting speaks of that.')).toBeVisible();
    await find.fill('');
    await page.getByLabel('only yours').check();
    await expect(gap).toBeVisible();
    await expect(page.getByLabel(/^Gap at the ceiling/)).toHaveCount(0);
    await page.getByLabel('only yours').uncheck();
  });

  await test.step('kept as a profile, put back, and brought back by the profile', async () => {
    await page.getByLabel("Keep this survey's settings as").fill('Old brick');
    await page.getByRole('button', { name: 'Keep as a profile' }).click();
    await expect(page.getByText('Profile Old brick is kept on this device.')).toBeVisible();
    await page.getByRole('button', { name: /^Put back: adhesive mixed/ }).click();
    await expect(waste).toHaveValue('10');
    await page.getByRole('button', { name: 'Put all back' }).click();
    await expect(gap).toHaveValue('12');
    await page.getByRole('button', { name: 'Use Old brick here' }).click();
    await expect(gap).toHaveValue('15');
    await expect(waste).toHaveValue('20');
    await undo.click();
    await expect(gap).toHaveValue('12');
    await expectSoundEverywhere(page, 'settings with a profile');
  });

  await test.step('it goes through a file, and one that is no profile is refused', async () => {
    const waiting = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save Old brick as a file' }).click();
    const path = await (await waiting).path();
    await page.getByRole('button', { name: 'Delete Old brick' }).click();
    await expect(page.getByText('Profile Old brick is deleted.')).toBeVisible();
    await expect(page.getByRole('button', { name: 'Use Old brick here' })).toHaveCount(0);
    const input = page.getByLabel('Open a profile file');
    await input.setInputFiles({
      name: 'list.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"a": 1}'),
    });
    await expect(page.getByText('list.json is not a profile of settings')).toBeVisible();
    await input.setInputFiles({
      name: 'old.json',
      mimeType: 'application/json',
      buffer: readFileSync(path),
    });
    await expect(page.getByText('Profile Old brick is taken in.')).toBeVisible();
    await page.getByRole('button', { name: 'Delete Old brick' }).click();
    await page.getByRole('button', { name: 'Put back', exact: true }).click();
    await expect(page.getByRole('button', { name: 'Use Old brick here' })).toBeVisible();
  });

  await test.step('the next survey is offered it, also when the page is opened anew', async () => {
    await page.goto('/#surveys');
    await page.reload();
    await page.getByRole('button', { name: 'New survey' }).click();
    await expect(page.getByLabel('Settings')).toHaveValue('Old brick');
    await page.getByLabel('Width of the wall').fill('2000');
    await page.getByLabel('Height of the wall').fill('2400');
    await page.getByLabel('Height of the wall').blur();
    await page.getByRole('button', { name: 'Start the survey' }).click();
    await page.goto('/#lining/settings');
    await expect(gap).toHaveValue('15');
    await expect(waste).toHaveValue('20');
    await expect(page.getByText('as this survey is lined')).toBeVisible();
  });
});
