import type { Locator, Page } from '@playwright/test';
import {
  askOf,
  countActions,
  expectUsualPlan,
  markPhoto,
  readKept,
  sample,
  startSurvey,
  takeCounts,
  thumb,
  type Counts,
} from './guidedSurvey.ts';
import { expect, test } from './watch.ts';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, actionTimeout: 20_000 });

/** What parts of the screen say, what stands in their fields, and what of them is on. */
const readScreen = (parts: Locator) =>
  parts.evaluateAll((nodes) =>
    nodes
      .flatMap((node) => [
        (node as HTMLElement).innerText,
        ...[...node.querySelectorAll<HTMLInputElement>('input, select')].map(({ value }) => value),
        ...[...node.querySelectorAll('[aria-pressed=true], [aria-selected=true]')].map(
          ({ textContent }) => `on: ${textContent}`,
        ),
      ])
      .map((text) => text.replace(/\s+/g, ' ').trim()),
  );

/**
 * What is kept but for what is found meanwhile, before the reload or after it: which way a line runs that is not told yet, and the points
 * of the photo `found`.
 */
async function readTold(page: Page, found?: string) {
  const { survey, plan } = await readKept(page);
  const photos = survey?.photos.map((photo) => ({
    ...photo,
    lines: photo.lines
      .filter(({ sheet }) => sheet.at !== null)
      .map((line) => (photo.id === found ? line.sheet : line)),
  }));
  return { plan, survey: survey && { ...survey, photos } };
}

/** Reloads the page: the same place is on screen, its parts that are given are as they were, and so is the survey on the device. */
async function reload(page: Page, parts: Locator, found?: string): Promise<void> {
  const heading = page.getByRole('heading', { level: 1 });
  const [address, name, before] = [page.url(), await heading.innerText(), await readScreen(parts)];
  const kept = await readTold(page, found);
  await page.reload();
  await expect(heading).toHaveText(name, { timeout: 60_000 });
  expect(page.url()).toBe(address);
  expect(before.join('')).not.toBe('');
  await expect.poll(() => readScreen(parts), { timeout: 60_000 }).toEqual(before);
  expect(await readTold(page, found)).toEqual(kept);
}

test('a new survey by thumb on a phone, reloaded in the middle of every step, comes to the same plan', async ({
  page,
}) => {
  test.setTimeout(420_000);
  const main = page.getByRole('main');
  const question = askOf(page).locator('.question');
  const heading = (name: string) => expect(page.getByRole('heading', { level: 1, name })).toBeVisible();
  await countActions(page);
  await startSurvey(page, thumb, (step) =>
    test.step(`reload: ${step}`, () =>
      reload(page, step === 'photos' ? main.locator('> header, .cards') : main)),
  );

  await page.getByRole('link', { name: 'Open photo f1' }).tap();
  const counted: (Counts & { photo: string })[] = [];
  for (const [index, { id }] of sample.photos.entries()) {
    await heading(`Photo ${id}`);
    await takeCounts(page);
    const halfway = index === 1 ? () => test.step('reload: marks', () => reload(page, question)) : undefined;
    counted.push({ photo: id, ...(await markPhoto(page, thumb, index, halfway)) });
    if (index === 2)
      await test.step('reload: the line of a photo before is looked for', async () => {
        await heading('Photo f4');
        await expect(question).toBeVisible();
        // cut short it is taken up again with the next one: all eight are found at the end
        await reload(page, question, id);
      });
  }
  for (const { photo, presses, keys } of counted) console.log(`${photo}: ${presses} taps, ${keys} keys`);
  for (const { photo, presses, keys } of counted.slice(1))
    expect(presses + keys, photo).toBeLessThanOrEqual(14);
  await heading('Photos');
  await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toHaveCount(8, { timeout: 240_000 });

  await test.step('reload: a point is corrected', async () => {
    await page.getByRole('link', { name: 'Open photo f2' }).tap();
    await page.getByRole('tab', { name: 'Points' }).tap();
    await page.getByRole('button', { name: 'Next suspect' }).tap();
    await page.getByRole('button', { name: /^Move the point up/ }).tap();
    await page.getByRole('button', { name: /^Move the point down/ }).tap();
    await expect(page.getByText('1 set by hand')).toBeVisible();
    await reload(page, page.locator('[role=tablist], [role=tabpanel] ul, .question'));
    await page.getByRole('button', { name: '‹ Photos' }).tap();
  });

  await page.getByRole('link', { name: 'On to the surface' }).tap();
  await test.step('the plan, and reload: report of the surface', async () => {
    await expectUsualPlan(page);
    await page.getByRole('link', { name: 'Papers' }).tap();
    await page.getByRole('link', { name: /^Report of the surface/ }).tap();
    await heading('Report of the surface');
    await page.getByRole('heading', { name: 'Readings' }).tap();
    await reload(page, page.getByRole('heading', { name: 'In short' }).locator('xpath=ancestor::details'));
    await page.getByRole('link', { name: '‹ Surface' }).tap();
  });

  await test.step('reload: a wish is set in a part of the lining', async () => {
    await page.getByRole('link', { name: 'On to the lining' }).tap();
    await page.getByRole('link', { name: 'On to: Plane and bed' }).tap();
    const stands = page.getByRole('region', { name: 'Where the boards stand' });
    const before = await stands.innerText();
    await thumb.write(page.getByLabel('Least bed'), '8');
    await expect(stands).not.toHaveText(before, { timeout: 60_000, useInnerText: true });
    await reload(page, main);
    await expect(page.getByLabel('Least bed')).toHaveValue('8');
  });

  await test.step('reload: papers', async () => {
    await page.getByRole('link', { name: 'Papers' }).tap();
    await expect(page.getByRole('button', { name: 'Save the plan as PDF' })).toBeEnabled({ timeout: 60_000 });
    await reload(page, main);
    const waiting = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the plan as PDF' }).tap();
    expect((await waiting).suggestedFilename()).toBe('Old-dairy-typed-in.pdf');
  });
});
