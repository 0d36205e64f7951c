import type { Page } from '@playwright/test';
import type { Orientation } from '../../samples/make/exif.ts';
import { drawPhotograph, makePhotoSurvey, openDesk, placeOnPage, readKeptPhoto } from './photoDesk.ts';
import { expect, expectSound, test } from './watch.ts';

const survey = makePhotoSurvey();
const before = survey.photos[0]!;
const points = before.lines[0]!.points;
const picked = 200;
let photograph: Buffer;

test.beforeAll(async () => {
  photograph = await drawPhotograph(survey);
});

const line = async (page: Page) => (await readKeptPhoto(page)).lines[0]!;
const loupe = (page: Page) => page.locator('[data-loupe]');
const pointAt = (page: Page, index: number) => placeOnPage(page, points[index]!.u, points[index]!.v);

async function dragBy(page: Page, from: { x: number; y: number }, right: number, down: number) {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + right / 2, from.y + down);
  await page.mouse.move(from.x + right, from.y + down);
  await expect(loupe(page)).toBeVisible();
  await page.mouse.up();
}

test('a picked point is dragged by what the mouse moved; undo and redo', async ({ page }) => {
  await openDesk(page, survey, photograph);
  const at = await pointAt(page, picked);
  await page.mouse.click(at.x, at.y);
  await expect(page.getByRole('tab', { name: 'Points' })).toHaveAttribute('aria-selected', 'true');
  await dragBy(page, at, 0, -12);
  await expect
    .poll(async () => (await line(page)).points.filter((point) => point.state === 'moved').length)
    .toBe(1);
  const moved = (await line(page)).points.find((point) => point.state === 'moved')!;
  const source = points.find((point) => Math.abs(point.u - moved.u) < 1e-9)!;
  expect(moved.v - source.v).toBeCloseTo(-12 / at.scale, 6);
  await expect(loupe(page)).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo' }).first().click();
  await expect.poll(async () => (await line(page)).points).toEqual(points);
  await page.getByRole('button', { name: 'Redo' }).first().click();
  await expect.poll(async () => (await line(page)).points).toContainEqual(moved);
});

test('the magnifier shows the pixels under the point in hand, while it moves', async ({ page }) => {
  await openDesk(page, survey, photograph);
  const at = await pointAt(page, picked);
  await page.mouse.click(at.x, at.y);
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x, at.y - 40);
  for (const [down, where] of [
    [0, 0],
    // the line lies under what is magnified when the point is above it: four css px to a px of the picture, and this many px
    [-6, 6 / at.scale],
  ] as const) {
    await page.mouse.move(at.x, at.y + down);
    const glass = (await loupe(page).boundingBox())!;
    const rowOf = async () => {
      const shot = await page.screenshot({ clip: glass });
      return page.evaluate(
        async (bytes) => {
          const bitmap = await createImageBitmap(new Blob([new Uint8Array(bytes)]));
          const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!;
          context.drawImage(bitmap, 0, 0);
          // beside the cross and the point's sign, where the glass is wide enough above and under it
          const { data, width, height } = context.getImageData(26, 0, 14, bitmap.height);
          let [sum, weight] = [0, 0];
          for (let i = 0; i < width * height; i++) {
            const green = Math.max(0, data[4 * i + 1]! - data[4 * i]! - 20);
            sum += green * Math.floor(i / width);
            weight += green;
          }
          return weight > 0 ? sum / weight - height / 2 : NaN;
        },
        [...shot],
      );
    };
    await expect.poll(async () => Math.abs((await rowOf()) - 4 * where), `${down}`).toBeLessThan(5);
  }
  await page.mouse.up();
});

test('keys alone: pick, move by a quarter of a pixel, leave out, take away, undo', async ({ page }) => {
  await openDesk(page, survey, photograph);
  await page.getByRole('application').focus();
  await page.keyboard.press('n');
  await expect(page.getByText(/^Suspect point/)).toBeVisible();
  await page.keyboard.press('ArrowUp');
  await expect
    .poll(async () => (await line(page)).points[100])
    .toMatchObject({
      u: points[100]!.u,
      v: points[100]!.v - 0.25,
      state: 'moved',
    });
  await page.keyboard.press('n');
  await page.keyboard.press('a');
  await page.keyboard.press('o');
  await expect.poll(async () => (await line(page)).points[300]!.state).toBe('found');
  expect((await line(page)).points[301]!.state).toBe('off');
  await page.keyboard.press('Delete');
  await expect.poll(async () => (await line(page)).points.length).toBe(points.length - 1);
  await page.keyboard.press('Control+z');
  await expect.poll(async () => (await line(page)).points.length).toBe(points.length);

  // the last step undone by its button leaves the keys on it
  const undo = page.getByRole('group', { name: 'Steps' }).getByRole('button', { name: 'Undo' });
  await undo.focus();
  for (let i = 0; i < 10 && (await undo.isEnabled()); i++) await page.keyboard.press('Enter');
  await expect(undo).toBeDisabled();
  await expect(undo).toBeFocused();
  await expect.poll(async () => (await line(page)).points).toEqual(points);
});

test('a gap is drawn along the line and taken away; a stretch of suspects is left out at once', async ({
  page,
}) => {
  await openDesk(page, survey, photograph);
  await page.getByRole('tab', { name: 'Points' }).click();
  await page.getByRole('button', { name: 'Gap', exact: true }).click();
  const [from, to] = [await pointAt(page, 150), await pointAt(page, 190)];
  await dragBy(page, { x: from.x, y: from.y + 20 }, to.x - from.x, 15);
  await expect.poll(async () => (await line(page)).gaps.length).toBe(1);
  const gap = (await line(page)).gaps[0]!;
  expect(gap.from).toBeCloseTo(points[150]!.u, 3);
  expect(gap.to).toBeCloseTo(points[190]!.u, 3);
  const off = (await line(page)).points.filter((point) => point.state === 'off').length;
  expect(off).toBeGreaterThanOrEqual(39);
  await page.getByRole('button', { name: /^Take away the gap/ }).click();
  await expect.poll(async () => (await line(page)).points).toEqual(points);

  await page.getByRole('button', { name: 'Next suspect' }).click();
  await page.getByRole('button', { name: 'Next suspect' }).click();
  await page.getByRole('button', { name: 'Leave all 6 out' }).click();
  await expect
    .poll(async () => (await line(page)).points.slice(299, 307).map((point) => point.state))
    .toEqual(['found', 'off', 'off', 'off', 'off', 'off', 'off', 'found']);
});

test('a point is added where the mouse is let go', async ({ page }) => {
  await openDesk(page, survey, photograph);
  await page.getByRole('tab', { name: 'Points' }).click();
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  const at = await placeOnPage(page, points[picked]!.u + 1, points[picked]!.v);
  await dragBy(page, { x: at.x, y: at.y + 30 }, 0, -30);
  await expect.poll(async () => (await line(page)).points.length).toBe(points.length + 1);
  const added = (await line(page)).points[picked + 1]!;
  expect(added.state).toBe('added');
  expect(added.u).toBeCloseTo(points[picked]!.u + 1, 3);
  expect(added.v).toBeCloseTo(points[picked]!.v, 3);
});

test('a mark is put on the tape and its reading typed; the profile comes with the third', async ({
  page,
}) => {
  const bare = { ...survey, photos: [{ ...before, marks: [], tapes: [] }] };
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles([
    { name: 'survey.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(bare)) },
    { name: 'f1.jpg', mimeType: 'image/jpeg', buffer: photograph },
  ]);
  await page.getByRole('link', { name: 'Open photo f1' }).click();
  await page.getByRole('button', { name: "I'll do it my own way" }).click();
  await expect(page.getByText(/^Photo f1 has no marks\./)).toBeVisible();
  const profile = page.getByRole('img', { name: /^Profile of the wall along the line/ });
  await expect(profile).toHaveCount(0);
  await page.getByRole('button', { name: 'Set a mark' }).click();
  const wanted = [0, 1, 3].map((index) => before.marks[index]!);
  for (const mark of wanted) {
    const at = await placeOnPage(page, mark.u, mark.v);
    await page.mouse.click(at.x, at.y);
    await page.getByLabel('Tape reads').fill(String(mark.along));
    if (mark === wanted[0]) await page.getByLabel('Tape above the floor').fill(String(mark.up));
    await page.keyboard.press('Enter');
    await expect(page.getByLabel('Tape reads')).toHaveCount(0);
  }
  await expect
    .poll(async () => (await readKeptPhoto(page)).tapes)
    .toEqual([{ from: 0, to: 2, axis: 'along', pitch: 10 }]);
  const { marks } = await readKeptPhoto(page);
  expect(marks.map(({ along, up }) => [along, up])).toEqual(wanted.map(({ along, up }) => [along, up]));
  marks.forEach(({ u, v }, i) => expect(Math.hypot(u - wanted[i]!.u, v - wanted[i]!.v)).toBeLessThan(1));
  await expect(profile).toBeVisible();
  for (const left of [2, 1])
    await test.step(`${left} left`, async () => {
      await page.getByRole('button', { name: 'Take away mark 1' }).click();
      await expect.poll(async () => (await readKeptPhoto(page)).tapes.length).toBe(left - 1);
    });
  await expect(page.getByText(/^Photo f1 has only 1 mark\./)).toBeVisible();
});

test('a mark typed wrong is told where it is', async ({ page }) => {
  await openDesk(page, survey, photograph);
  await page.getByRole('tab', { name: 'Marks' }).click();
  const field = page.getByLabel('Mark 2, from the left');
  const wrong = before.marks[1]!.along + 100;
  await field.fill(String(wrong));
  await field.press('Enter');
  await expect(page.getByText(/^Something does not agree here\. Check mark/)).toBeVisible();
  await field.fill(String(before.marks[1]!.along));
  await field.press('Enter');
  await expect(page.getByText(/^Something does not agree/)).toHaveCount(0);
});

test('every panel of the desk is sound', async ({ page }) => {
  await openDesk(page, survey, photograph);
  for (const panel of ['Line', 'Marks', 'Phone', 'Points']) {
    await page.getByRole('tab', { name: panel }).click();
    await expectSound(page, panel);
  }
});

for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8] as Orientation[])
  test(`EXIF orientation ${orientation}: a photograph stored turned stands upright under its points`, async ({
    page,
  }) => {
    await openDesk(page, survey, await drawPhotograph(survey, orientation));
    const colourAt = async (u: number, v: number) => {
      const at = await placeOnPage(page, u, v);
      return page
        .getByRole('application')
        .locator('canvas')
        .first()
        .evaluate((canvas: HTMLCanvasElement, { x, y }) => {
          const box = canvas.getBoundingClientRect();
          const ratio = canvas.width / box.width;
          const context = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d')!;
          context.drawImage(canvas, 0, 0);
          return [...context.getImageData((x - box.x) * ratio, (y - box.y) * ratio, 1, 1).data];
        }, at);
    };
    const isRed = ([red, green]: number[]) => red! > 150 && green! < 90;
    await expect.poll(async () => isRed(await colourAt(40, 30))).toBe(true);
    expect(isRed(await colourAt(1300, 30))).toBe(false);
    expect(isRed(await colourAt(40, 980))).toBe(false);
    const [red, green] = await colourAt(points[picked]!.u, points[picked]!.v);
    expect(green! - red!).toBeGreaterThan(40);
  });
