import { makeSurvey } from '../truth/survey.ts';
import { expect, expectSound, goTo, test } from './watch.ts';

const { survey } = makeSurvey(11, 'stepped', { levels: [400, 1900], plumbs: [1200], everyPx: 4 });

test.beforeEach(async ({ page }) => {
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles({
    name: 'survey.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(survey)),
  });
  await goTo(page, 'Surface');
  await expect(page.getByRole('heading', { name: 'What to measure next' })).toBeVisible({ timeout: 60_000 });
});

test('the wall shows how well it is known and the chances of the bed; a reading advised waits for its distance alone', async ({
  page,
}) => {
  for (const [choice, picture] of [
    ['Known to', 'The wall by how well it is known'],
    ['Too thin', 'The wall by its chance of a bed too thin'],
    ['Packing', 'The wall by its chance of a bed that needs packing'],
    ['Too deep', 'The wall by its chance of a bed too deep'],
  ] as const) {
    await page.getByRole('button', { name: choice, exact: true }).click();
    const drawing = page.getByRole('img', { name: picture, exact: true });
    await expect(drawing).toContainText('Measure next');
    await expectSound(page, choice);
  }
  await page.getByRole('button', { name: 'Depth', exact: true }).click();
  await expect(page.getByRole('img', { name: 'The wall seen straight on' })).toBeVisible();

  await test.step('a reading advised', async () => {
    const panel = page.getByRole('region', { name: 'What to measure next' });
    await panel.getByRole('button', { name: 'Take this reading' }).click();
    await expect(page.getByRole('heading', { level: 1, name: 'Readings' })).toBeVisible();
    const field = (name: string) => page.locator('#new-reading').getByLabel(name, { exact: true });
    await expect(field('From the left')).not.toHaveValue('');
    await expect(field('From the floor')).not.toHaveValue('');
    await field('Plane to wall').fill('61');
    await page.locator('#new-reading').getByRole('button', { name: 'Add reading' }).click();
    await expect(page.getByRole('row', { name: /^r7/ })).toBeVisible();
  });
});

test('the line advised is entered into the photo that is added for it, also after the page was left', async ({
  page,
}) => {
  const panel = page.getByRole('region', { name: 'What to measure next' });
  const words = (await panel.getByRole('paragraph').first().textContent())!;
  const [, kind, at] = /^A (level|plumb) line (\d+) mm .* doubtful area/.exec(words)!;
  await panel.getByRole('button', { name: `Photograph this ${kind} line` }).click();
  await expect(page.getByRole('alert').filter({ hasText: `${at} mm` })).toBeVisible();
  await page.reload();
  await expect(page.getByRole('alert').filter({ hasText: `${at} mm` })).toBeVisible();
  await expectSound(page, 'photos with a line set out for');
  const picture = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(400, 300);
    canvas.getContext('2d')!.fillRect(0, 0, 400, 300);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
  });
  await page
    .getByLabel('Add photos')
    .setInputFiles({ name: 'next.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(picture) });
  await expect(page.getByRole('link', { name: 'Open photo f4' })).toBeVisible();
  await expect(page.getByRole('alert').filter({ hasText: 'Throw a' })).toHaveCount(0);
  await page.getByRole('link', { name: 'Open photo f4' }).click();
  await page.getByRole('tab', { name: 'Line' }).click();
  await expect(page.getByLabel(/^(Height above the floor|From the left end of the wall)$/)).toHaveValue(at!);
});
