import type { Page } from '@playwright/test';
import { openFoundSample } from './foundSample.ts';
import { expect, expectSound, expectSoundAtBoth, test } from './watch.ts';

/** Waits until the plan on screen is that of the survey as it is now. */
async function planned(page: Page) {
  await expect(page.getByText(/^(Planning the lining|Solving the surface)/)).toHaveCount(0, {
    timeout: 90_000,
  });
}

test('boards are cut from the stock, screws ticked off and set, reveals and slopes boarded', async ({
  page,
}) => {
  test.setTimeout(300_000);
  await openFoundSample(page);

  const bring = page.getByRole('region', { name: 'What to bring' });
  const cutList = page.getByRole('region', { name: 'Cut list' });

  await test.step('every board of the cut list has its drawing and is on a stock board', async () => {
    await page.goto('/#lining/boards');
    await expect(bring).toBeVisible({ timeout: 120_000 });
    await planned(page);
    const boards = Number(/(\d+)/.exec(await cutList.getByRole('heading').first().innerText())![1]);
    expect(boards).toBeGreaterThan(1);
    await expect(cutList.getByRole('img', { name: /^Board \w+ seen from its face/ })).toHaveCount(boards);
    await expect(bring.getByText(/stock boards?:/)).toBeVisible();
    await expectSoundAtBoth(page, 'boards');
  });

  await test.step('one board shows its dabs with their depths', async () => {
    const dabs = page.getByRole('region', { name: 'Dabs and strips' });
    await dabs.getByLabel('Show').selectOption('A');
    await expect(dabs.getByRole('img', { name: 'Adhesive behind board A' })).toBeVisible();
    await expect(dabs.getByRole('row').nth(1)).toBeVisible();
  });

  await test.step('a longer size is picked, planned with, and undone in one step', async () => {
    const stock = page.getByRole('region', { name: 'Boards that can be had' });
    await stock.getByLabel('One more size').selectOption('1200x2600');
    await expect(stock.getByRole('listitem')).toHaveCount(2);
    await planned(page);
    await expect(bring.getByRole('row', { name: /1200 × 2600 mm/ })).toBeVisible({ timeout: 90_000 });
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect(stock.getByRole('listitem')).toHaveCount(1);
    await planned(page);
    await expect(bring.getByRole('row', { name: /1200 × 2600 mm/ })).toHaveCount(0, { timeout: 90_000 });
  });

  const sheet = page.getByRole('region', { name: 'Sheet of gauge screws' });
  const next = page.getByRole('region', { name: 'Next screw' });

  await test.step('the next screw is ticked with one button, and the one after comes up', async () => {
    await page.goto('/#lining/screws');
    await expect(next.getByRole('heading', { name: /^Next:/ })).toBeVisible({ timeout: 90_000 });
    const first = (await next.getByRole('button').innerText()).replace(' is set', '');
    await next.getByRole('button', { name: `${first} is set` }).click();
    await expect(sheet.getByRole('checkbox', { name: `${first} is set` })).toBeChecked();
    await expect(next.getByRole('button', { name: `${first} is set` })).toHaveCount(0);
    await expect(next.getByText(/^1 of \d+ set$/)).toBeVisible();
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect(next.getByText(/^0 of \d+ set$/)).toBeVisible();
  });

  await test.step('a screw set too far out is told, with what follows for the others', async () => {
    const row = sheet.getByRole('listitem').first();
    const id = (await row.getAttribute('data-screw'))!;
    const field = sheet.getByLabel(`${id} as set, out of the wall`);
    const asked = Number(/out of wall\s+([\d.]+)/.exec(await row.innerText())![1]);
    await field.fill(String(asked + 4));
    await field.blur();
    await expect(row.getByText('4.0 mm too far out: turn it in')).toBeVisible({ timeout: 90_000 });
    await expect(sheet.getByRole('checkbox', { name: `${id} is set` })).toBeChecked();
    await expect(
      sheet
        .getByRole('listitem')
        .nth(1)
        .getByText(/^as the others stand: [\d.]+ to [\d.]+ mm$/),
    ).toBeVisible();
    await expectSoundAtBoth(page, 'screws with one off');
    await page.emulateMedia({ media: 'print' });
    await expect(next).toBeHidden();
    await expectSound(page, 'screws, print');
    await page.emulateMedia({ media: 'screen' });
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect(field).toHaveValue('');
    await expect(sheet.getByRole('checkbox', { name: `${id} is set` })).not.toBeChecked();
  });

  await test.step('a reveal and a sloping ceiling typed at the wall come out in the cut list', async () => {
    await page.goto('/#wall');
    await page.getByRole('region', { name: 'Openings' }).getByRole('button').first().click();
    const reveal = page.getByLabel('Reveal to board, deep').first();
    await reveal.fill('140');
    await reveal.blur();
    await page.getByRole('button', { name: 'Give the ceiling a slope' }).click();
    const heights = page.getByRole('region', { name: 'Floor and ceiling' }).getByLabel('Height');
    await heights.last().fill('2400');
    await heights.last().blur();
    await expectSoundAtBoth(page, 'wall with a slope and a reveal');
    await page.goto('/#lining/boards');
    await planned(page);
    await expect(page.getByRole('region', { name: 'Reveals' }).getByRole('listitem').first()).toBeVisible({
      timeout: 120_000,
    });
    await expect(cutList.getByText(/sloping end/).first()).toBeVisible({ timeout: 90_000 });
    await expectSoundAtBoth(page, 'boards with a slope');
  });
});
