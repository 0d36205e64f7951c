import type { Page } from '@playwright/test';
import { encodePhotograph } from '../../samples/make/jpeg.ts';
import { seedRandom } from '../truth/random.ts';
import { HEIGHT, placeOnPage, readKeptPhoto, WIDTH } from './photoDesk.ts';
import { expect, expectSound, goTo, test } from './watch.ts';

/** Heights in the picture (px) of a strong and a weaker level line, both a little inclined, and where a plumb one stands. */
const STRONG = { at: 330, rise: 0.01, light: 70 };
const WEAK = { at: 560, rise: 0.012, light: 22 };
const lineV = ({ at, rise }: typeof STRONG, u: number) => at + rise * u;

/** A blotchy wall with two green level lines, or with the laser off; taken from a little to the side. */
async function drawWall(laserOn: boolean, shiftPx = 0): Promise<Buffer> {
  const random = seedRandom(laserOn ? 5 : 6);
  const blots = seedRandom(3);
  const tones = Float64Array.from({ length: 70 * 50 }, () => 30 * (blots.uniform() - 0.5));
  const toneAt = (u: number, v: number) => tones[Math.floor(v / 24) * 70 + Math.floor(u / 22)]!;
  const rgba = new Uint8ClampedArray(4 * WIDTH * HEIGHT).fill(255);
  for (let v = 0; v < HEIGHT; v++)
    for (let u = 0; u < WIDTH; u++) {
      const tone = toneAt(u + 40 + shiftPx, v + 40) + 5 * (random.uniform() - 0.5);
      const light = (line: typeof STRONG) =>
        laserOn ? line.light * Math.exp(-0.5 * ((v - lineV(line, u)) / 1.6) ** 2) : 0;
      const added = light(STRONG) + light(WEAK);
      rgba.set([140 + tone + 0.1 * added, 138 + tone + added, 130 + tone + 0.1 * added], 4 * (v * WIDTH + u));
    }
  const tags = { orientation: 1, focal35Mm: 27, focalMm: 7, takenAt: '2024:05:14 09:12:40' } as const;
  return Buffer.from(await encodePhotograph({ widthPx: WIDTH, heightPx: HEIGHT, rgba }, 92, tags));
}

const asFile = (name: string, buffer: Buffer) => ({ name, mimeType: 'image/jpeg', buffer });

async function addPhoto(page: Page): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Which wall').fill('Net loft');
  await page.getByLabel('Width of the wall').fill('3.6 m');
  await page.getByLabel('Height of the wall').fill('2450');
  await page.getByLabel('Height of the wall').blur();
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await goTo(page, 'Photos');
  await page
    .getByLabel('Add photos')
    .first()
    .setInputFiles(asFile('wall.jpg', await drawWall(true)));
  await page.getByRole('link', { name: 'Open photo f1' }).click();
}

/** 95 % of the kept points of the first line lie within this (px) of where a line truly is; Infinity for fewer than 500. */
async function missPx(page: Page, line: typeof STRONG): Promise<number> {
  const points = (await readKeptPhoto(page)).lines[0]?.points ?? [];
  if (points.length < 500) return Infinity;
  const misses = points.map(({ u, v }) => Math.abs(v - lineV(line, u))).sort((a, b) => a - b);
  return misses[Math.floor(0.95 * misses.length)]!;
}

test('a photo shows of itself the lines in it, one tap takes one over, a pin moves the line to another', async ({
  page,
}) => {
  await addPhoto(page);
  const seen = page.getByRole('region', { name: 'Lines seen in this picture' });
  const first = seen.getByRole('button', { name: /^1\s*level, green, sure/ });
  await expect(first).toBeVisible({ timeout: 60_000 });
  // nothing is kept of what was not taken
  expect((await readKeptPhoto(page)).lines[0]!.points).toEqual([]);
  await expectSound(page, 'proposals');
  await first.click();
  await expect.poll(() => missPx(page, STRONG)).toBeLessThan(1);
  await expect(first).toHaveAttribute('aria-pressed', 'true');

  await page.getByRole('button', { name: 'The line is here' }).click();
  const at = await placeOnPage(page, 700, lineV(WEAK, 700));
  await page.mouse.click(at.x, at.y);
  await expect(page.getByText('Pin 1: the line passes')).toBeVisible({ timeout: 60_000 });
  await expect.poll(() => missPx(page, WEAK)).toBeLessThan(1);
  await expectSound(page, 'a pin');

  await page.reload();
  await expect(page.getByText('Pin 1: the line passes')).toBeVisible({ timeout: 60_000 });
  expect((await readKeptPhoto(page)).lines[0]!.pins).toHaveLength(1);

  await page.getByRole('button', { name: 'Take away pin 1' }).click();
  await expect.poll(() => missPx(page, STRONG), { timeout: 60_000 }).toBeLessThan(1);
  // the pin and what was found without it are one step
  await page.getByRole('group', { name: 'Steps' }).getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByText('Pin 1: the line passes')).toBeVisible();
  await expect.poll(() => missPx(page, WEAK)).toBeLessThan(1);
});

test('a pin where there is no light makes no points and says so', async ({ page }) => {
  await addPhoto(page);
  await expect(page.getByText('Seen in this picture')).toBeVisible({ timeout: 60_000 });
  await page.getByRole('button', { name: 'The line is here' }).click();
  const at = await placeOnPage(page, 700, 850);
  await page.mouse.click(at.x, at.y);
  await expect(page.getByText('Pin 1: no light seen there')).toBeVisible({ timeout: 60_000 });
  await expect(page.getByText(/no light of the line is seen where you put a pin/)).toBeVisible();
  expect((await readKeptPhoto(page)).lines[0]!.points).toEqual([]);
});

test('a picture with the laser off is kept with the photo and used', async ({ page }) => {
  await addPhoto(page);
  const chooser = page.getByLabel('Add a picture with the laser off');
  await chooser.setInputFiles({
    name: 'notes.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from('no picture'),
  });
  await expect(page.getByText(/notes\.jpg cannot be read as a picture/)).toBeVisible();
  await chooser.setInputFiles(asFile('off.jpg', await drawWall(false, 4)));
  await expect(page.getByText('With a picture with the laser off')).toBeVisible();
  await expect.poll(async () => (await readKeptPhoto(page)).laserOff).toBe('photos/off.jpg');
  await page.getByRole('button', { name: 'Find the line' }).click();
  await expect.poll(() => missPx(page, STRONG), { timeout: 60_000 }).toBeLessThan(1);
  await expect(page.getByText(/cannot be laid on this one/)).toHaveCount(0);
  await page.reload();
  await expect(page.getByText('With a picture with the laser off')).toBeVisible();
  await page.getByRole('button', { name: 'Do not use it' }).click();
  await expect(chooser).toBeAttached();
});
