import type { Page } from '@playwright/test';
import { drawPhotograph, makePhotoSurvey } from './photoDesk.ts';
import { expect, expectFits, expectSound, goTo, test } from './watch.ts';

/** Every screen, and the tab of the photo's panel that is open there. */
const screens: readonly (readonly [hash: string, tab?: string])[] = [
  ['surveys'],
  ['wall'],
  ['readings'],
  ['photos'],
  ['photos/f1', 'Line'],
  ['photos/f1', 'Marks'],
  ['photos/f1', 'Phone'],
  ['photos/f1', 'Points'],
  ['photos/f1/plan'],
  ['surface'],
  ['surface/report'],
  ['lining'],
  ['lining/plane'],
  ['lining/boards'],
  ['lining/screws'],
  ['lining/adhesive'],
  ['lining/work'],
  ['lining/settings'],
  ['papers'],
  ['help'],
];

const wide = { width: 1440, height: 900 };
const tablet = { width: 820, height: 1180 };
const phone = { width: 390, height: 844 };
const smallPhone = { width: 360, height: 640 };
const phoneAcross = { width: 844, height: 390 };
const root = (page: Page) => page.locator('html');

/** Opens a made survey of one photo, which is soon solved. */
async function openSolved(page: Page): Promise<void> {
  const survey = makePhotoSurvey();
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles([
    { name: 'survey.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(survey)) },
    { name: 'f1.jpg', mimeType: 'image/jpeg', buffer: await drawPhotograph(survey) },
  ]);
  await goTo(page, 'Lining');
  await expect(page.getByRole('heading', { name: 'The plan in short' })).toBeVisible({ timeout: 180_000 });
}

// what axe looks at is the same wide and narrow but for what is hidden, and in both looks but for colours: a look for each size
test('every screen is sound in both looks, wide and on a phone', async ({ page }) => {
  test.setTimeout(480_000);
  await openSolved(page);
  for (const [hash, tab] of screens) {
    await page.evaluate((to) => (location.hash = to), hash);
    if (tab) await page.getByRole('tab', { name: tab }).click();
    else await expect(page.locator('main :is(h1, h2, a)').first()).toBeVisible();
    const where = [hash, tab].filter(Boolean).join(' ');
    await page.emulateMedia({ colorScheme: 'light' });
    await page.setViewportSize(wide);
    await expectSound(page, `${where}, light and wide`);
    await page.setViewportSize(tablet);
    await expectFits(page, `${where} on a tablet`);
    await page.setViewportSize(phoneAcross);
    await expectFits(page, `${where} on a phone held across`);
    await page.setViewportSize(smallPhone);
    await expectFits(page, `${where} on a small phone`);
    await page.setViewportSize(phone);
    await expectFits(page, `${where} on a phone`);
    await page.emulateMedia({ colorScheme: 'dark' });
    await expect(root(page)).toHaveAttribute('data-look', 'dark');
    await expectSound(page, `${where}, dark on a phone`);
  }
});

test('look, hand and size of buttons are chosen, do what they say, and are there after a reload', async ({
  page,
}) => {
  await page.setViewportSize(phone);
  await page.emulateMedia({ colorScheme: 'light' });
  await page.goto('/');
  const ground = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const light = await ground();
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Width of the wall').fill('3000');
  await page.getByLabel('Height of the wall').fill('2400');
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await expect(page.getByRole('heading', { level: 2, name: 'How it goes' })).toBeVisible();
  const undo = page.getByRole('button', { name: 'Undo' });
  const middle = phone.width / 2;
  expect((await undo.boundingBox())!.x).toBeGreaterThan(middle);

  await test.step('the help has the choices, and an address for each section', async () => {
    await page.getByRole('link', { name: 'Help', exact: true }).click();
    await expect(page).toHaveTitle('Help, New wall – Bedplane');
    await expect(page.getByRole('heading', { level: 1, name: 'Help' })).toBeFocused();
    await page.getByRole('radio', { name: 'Dark' }).check();
    await page.getByRole('radio', { name: 'Left hand' }).check();
    await page.getByRole('radio', { name: 'Large, for gloves' }).check();
    await page.getByRole('link', { name: 'Taking a reading' }).click();
    await expect(page.getByRole('heading', { name: 'Taking a reading' })).toBeInViewport();
  });

  await test.step('they hold at once, and after a reload from the first paint on', async () => {
    for (const again of [false, true]) {
      if (again) await page.reload({ waitUntil: 'commit' });
      await expect(root(page)).toHaveAttribute('data-look', 'dark');
      expect(await ground()).not.toBe(light);
      await expect(undo).toBeVisible();
      expect((await undo.boundingBox())!.x).toBeLessThan(middle);
      expect((await undo.boundingBox())!.height).toBeGreaterThanOrEqual(56);
    }
    for (const place of ['Surveys', 'Wall', 'Readings', 'Photos', 'Lining', 'Papers']) {
      await goTo(page, place);
      const small = await page.evaluate(() =>
        [...document.querySelectorAll('main button, main select, main a.button')]
          .filter((node) => node.checkVisibility() && node.getBoundingClientRect().height < 55.5)
          .map((node) => node.outerHTML.slice(0, 90)),
      );
      expect(small, place).toEqual([]);
      await expectFits(page, `${place}, left hand and large buttons`);
    }
  });

  await test.step('paper is light whatever the screen is', async () => {
    await goTo(page, 'Wall');
    const sheet = page.getByRole('img', { name: /wall/i }).first().locator('svg rect').first();
    const onScreen = await sheet.getAttribute('fill');
    await page.emulateMedia({ media: 'print' });
    expect(
      await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue('--pencil')),
    ).toBe('#23262b');
    await expect(sheet).toHaveAttribute('fill', '#fdfbf5');
    expect(onScreen).not.toBe('#fdfbf5');
    await page.emulateMedia({ media: 'screen' });
    await expect(sheet).toHaveAttribute('fill', onScreen!);
  });
});

test('keys: to the work at the first Tab, on from a heading after a change of place, hints away and back', async ({
  page,
}) => {
  await page.goto('/');
  await expect(page).toHaveTitle('Surveys – Bedplane');
  await page.keyboard.press('Tab');
  await expect(page.getByRole('link', { name: 'Skip to the work' })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('main')).toBeFocused();
  await expect(page).toHaveURL(/\/$/);

  await page.getByRole('button', { name: 'New survey' }).press('Enter');
  await page.getByLabel('Width of the wall').press('Escape');
  await expect(page.getByRole('button', { name: 'New survey' })).toBeFocused();
  await expect(page.getByLabel('Width of the wall')).toHaveCount(0);

  await page.getByRole('button', { name: 'Put the hint away' }).press('Enter');
  await expect(page.getByRole('note', { name: 'Hint' })).toHaveCount(0);
  await expect(page.getByRole('heading', { level: 1, name: 'Surveys' })).toBeFocused();
  await page.reload();
  await expect(page.getByRole('heading', { level: 1, name: 'Surveys' })).toBeVisible();
  await expect(page.getByRole('note', { name: 'Hint' })).toHaveCount(0);
  await page.getByRole('link', { name: 'Help', exact: true }).press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Help' })).toBeFocused();
  await page.getByRole('button', { name: 'Show the hints again' }).press('Enter');
  await page.goBack();
  await expect(page.getByRole('note', { name: 'Hint' })).toBeVisible();
});
