import { readFileSync } from 'node:fs';
import exifr from 'exifr';
import { listSegments, readFrameSize } from '../../src/file/jpeg.ts';
import { drawPhotograph, HEIGHT, makePhotoSurvey, openDesk, WIDTH } from './photoDesk.ts';
import { expect, expectSoundAtBoth, goTo, test } from './watch.ts';

test('the plan is drawn onto a photograph, in layers, and saved as a picture that tells nothing of the camera', async ({
  page,
}) => {
  test.setTimeout(300_000);
  const survey = makePhotoSurvey();
  await openDesk(page, survey, await drawPhotograph(survey));
  await page.getByRole('link', { name: 'The plan on this photo' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Plan on photo f1' })).toBeVisible();
  const save = page.getByRole('button', { name: 'Save as picture' });
  const picture = page.getByRole('img', { name: /^Photo f1 with the plan drawn on it: boards / });
  const figures = picture.locator('text').filter({ hasText: /^[A-Z]\d+: / });

  await test.step('without a plan it says so and makes one', async () => {
    await expect(page.getByText('Needs the plan of the lining')).toBeVisible();
    await page.getByRole('button', { name: 'Make the plan' }).click();
    await expect(page.getByText(/^Drawn to about ±\d+ mm on the wall; shows \d+ % of it$/)).toBeVisible({
      timeout: 180_000,
    });
    await expect(figures.first()).toBeVisible();
  });

  await test.step('layers are switched, and one looks nearer', async () => {
    const screws = page.getByRole('button', { name: 'Screws', exact: true });
    await expect(screws).toHaveAttribute('aria-pressed', 'true');
    await screws.click();
    await expect(screws).toHaveAttribute('aria-pressed', 'false');
    await expect(figures).toHaveCount(0);
    await screws.click();
    await page.getByRole('button', { name: 'Board backs' }).click();
    await expect(page.getByRole('button', { name: 'Board fronts' })).toHaveAttribute('aria-pressed', 'false');
    const wide = (await picture.boundingBox())!.width;
    await page.getByRole('region', { name: /^Picture; plus and minus/ }).press('+');
    await expect.poll(async () => (await picture.boundingBox())!.width).toBeGreaterThan(1.4 * wide);
    await page.getByRole('button', { name: 'Whole' }).click();
  });

  await test.step('it is sound on a desk and on a phone', async () => {
    await expectSoundAtBoth(page, 'plan on a photo');
    await expect(picture).toBeVisible();
  });

  await test.step('the saved picture has the size of the photograph and no notes', async () => {
    await expect(save).toBeEnabled();
    const [download] = await Promise.all([page.waitForEvent('download'), save.click()]);
    expect(download.suggestedFilename()).toBe('plan-on-f1-Boathouse-store.jpg');
    const bytes = readFileSync(await download.path());
    const segments = listSegments(bytes)!;
    expect(readFrameSize(bytes, segments)).toEqual({ widthPx: WIDTH, heightPx: HEIGHT });
    // notes of a camera, with place and time, stand in APP1
    expect(segments.filter(({ marker }) => marker === 0xe1)).toEqual([]);
    expect(await exifr.gps(bytes).catch(() => undefined)).toBeUndefined();
  });

  await test.step('a change makes it old, and says so', async () => {
    await page.getByRole('link', { name: '‹ Photo f1' }).click();
    await page.getByRole('button', { name: 'Leave this photo out' }).click();
    await page.getByRole('link', { name: 'The plan on this photo' }).click();
    await expect(page.getByText(/the survey changed|Quickly brought up|is left out/i).first()).toBeVisible();
    await page.keyboard.press('Control+z');
  });

  await test.step('the papers offer it too', async () => {
    await goTo(page, 'Papers');
    const offer = page.getByRole('button', { name: 'Save the plan on photo f1' });
    await expect(offer).toBeEnabled({ timeout: 180_000 });
    await expect(page.getByRole('link', { name: 'Look at the plan on photo f1' })).toBeVisible();
  });
});
