import type { Page } from '@playwright/test';
import { shareOfPush } from '../../src/app/pushPoints.ts';
import { wallFromImageOnSheet } from '../../src/core/camera/camera.ts';
import { guessReliefMm } from '../../src/ui/photo/doubt.ts';
import { meanOutMm, placePhoto } from '../../src/ui/photo/measure.ts';
import { drawPhotograph, makePhotoSurvey, openDesk, placeOnPage, readKeptPhoto } from './photoDesk.ts';
import { expect, expectSound, test } from './watch.ts';

const survey = makePhotoSurvey();
const points = survey.photos[0]!.lines[0]!.points;
let photograph: Buffer;

test.beforeAll(async () => {
  photograph = await drawPhotograph(survey);
});

const line = async (page: Page) => (await readKeptPhoto(page)).lines[0]!;
const countOf = async (page: Page, state: string) =>
  (await line(page)).points.filter((point) => point.state === state).length;
const tool = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const readout = (page: Page, words: RegExp) =>
  expect(page.getByRole('status').filter({ hasText: words })).toBeVisible();
const pointAt = (page: Page, index: number) => placeOnPage(page, points[index]!.u, points[index]!.v);

/** Reach of the brush in a picture of 1344 px unless it is set otherwise. */
const REACH_PX = 27;

test('push, erase, chart and pin: each sets the line right in one step and tells it in mm', async ({
  page,
}) => {
  await openDesk(page, survey, photograph);
  await page.getByRole('tab', { name: 'Points' }).click();
  const undo = page.getByRole('button', { name: 'Undo' }).first();

  await test.step('a stretch is pushed across the line by the mouse', async () => {
    await tool(page, 'Push').click();
    const at = await pointAt(page, 200);
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 9, at.y - 2);
    await readout(page, /^Push: .* mm further .* on the mean, .* mm at most, over \d+ mm\./);
    await page.mouse.up();
    await expect.poll(() => countOf(page, 'moved')).toBeGreaterThan(10);
    const pushed = (await line(page)).points;
    // the point that was gripped is the nearest to the press
    const gripped = pushed.findIndex(({ v }, i) => Math.abs(v - points[i]!.v + 2 / at.scale) < 1e-9);
    expect(Math.abs(gripped - 200)).toBeLessThan(3);
    pushed.forEach((point, i) => {
      const by = (-2 / at.scale) * shareOfPush(points[i]!.u - points[gripped]!.u, REACH_PX);
      expect(point.u).toBe(points[i]!.u);
      if (Math.abs(by) >= 0.02) expect(point.v - points[i]!.v).toBeCloseTo(by, 9);
      else expect(point).toEqual(points[i]);
    });
    await readout(page, /of the line moved: .* mm further (out|back) on the mean/);
    await undo.click();
    await expect.poll(async () => (await line(page)).points).toEqual(points);
  });

  await test.step('and by keys, its reach too', async () => {
    const picture = page.getByRole('application');
    await picture.press('0');
    await picture.press('.');
    await picture.press(']');
    await picture.press('ArrowDown');
    await expect.poll(() => countOf(page, 'moved')).toBeGreaterThan(2);
    const pushed = (await line(page)).points;
    const most = Math.max(...pushed.map(({ v }, i) => v - points[i]!.v));
    expect(most).toBeCloseTo(0.25, 9);
    await picture.press('Control+z');
    await expect.poll(async () => (await line(page)).points).toEqual(points);
  });

  await test.step('the ring takes away what it is drawn over, and leaves a gap made by hand', async () => {
    await tool(page, 'Erase').click();
    const [from, to] = [await pointAt(page, 400), await pointAt(page, 430)];
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y);
    await readout(page, /points to be taken away, over \d+ mm\./);
    await page.mouse.up();
    await expect.poll(async () => (await line(page)).points.length).toBeLessThan(points.length - 30);
    const left = new Set((await line(page)).points.map(({ u }) => u));
    const gone = points.filter(({ u }) => !left.has(u)).map(({ u }) => u);
    expect(gone).toContain(points[400]!.u);
    expect(gone).toContain(points[430]!.u);
    const [gap] = (await line(page)).gaps;
    expect(gap!.byHand).toBe(true);
    expect(gap!.from).toBeLessThan(gone[0]!);
    expect(gap!.to).toBeGreaterThan(gone[gone.length - 1]!);
    await readout(page, /points over \d+ mm no longer count; \d+ mm show no profile now/);
  });

  await test.step('the chart shows a place on the picture, and moves the picked point by mm of wall', async () => {
    await tool(page, 'Move').click();
    const chart = (await page.getByRole('img', { name: /^Profile of the wall/ }).boundingBox())!;
    const x = chart.x + chart.width * 0.5;
    await page.mouse.move(x, chart.y + 20);
    await readout(page, /^Here · \d+ mm from the left · .* mm behind the plane/);
    await page.mouse.click(x, chart.y + 20);
    const hold = page.getByRole('slider', { name: 'Point on the profile' });
    await expect(hold).toHaveAttribute('aria-valuetext', /mm behind the plane/);
    const box = (await hold.boundingBox())!;
    const [midX, midY] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(midX, midY);
    await page.mouse.down();
    await page.mouse.move(midX, midY - 10);
    await readout(page, /^This point: .* → .* mm behind the plane · wall .* mm further out/);
    await page.mouse.up();
    await expect.poll(() => countOf(page, 'moved')).toBe(1);
    const before = await movedOutMm(page);
    await hold.focus();
    await page.keyboard.press('Shift+ArrowUp');
    await expect.poll(async () => (await movedOutMm(page)) - before).toBeCloseTo(1, 3);
  });

  await test.step('a pin has the line looked for again; what was set and erased by hand stays', async () => {
    const before = await line(page);
    const moved = before.points.find(({ state }) => state === 'moved')!;
    await tool(page, 'Pin').click();
    await page.getByRole('application').press('0');
    const at = await pointAt(page, 100);
    await page.mouse.click(at.x, at.y);
    await expect.poll(async () => (await line(page)).points.length, { timeout: 60_000 }).toBeGreaterThan(900);
    const after = await line(page);
    // what comes from the finder is rounded as the file has it
    const same = after.points.find(({ u, v }) => Math.hypot(u - moved.u, v - moved.v) < 0.001);
    expect(same).toMatchObject({ state: 'moved', sigma: moved.sigma });
    const gap = before.gaps.find(({ byHand }) => byHand)!;
    expect(after.points.filter(({ u }) => gap.from < u && u < gap.to)).toEqual([]);
    expect(after.gaps.filter(({ byHand }) => byHand).length).toBe(1);
    await readout(page, /^Pin 1: the line moved .* mm there\./);
  });

  await expectSound(page, 'the tools of the line');
});

/** Wall offset (mm) of the one point that was moved, by the ray of its pixel through the light sheet. */
async function movedOutMm(page: Page): Promise<number> {
  const photo = await readKeptPhoto(page);
  const { points, sheet } = photo.lines[0]!;
  const { lens } = survey.phones.find(({ id }) => id === photo.phone)!;
  const { readings } = survey;
  const { resection } = placePhoto(photo, lens, meanOutMm(readings), guessReliefMm(readings));
  const moved = points.find(({ state }) => state === 'moved')!;
  return wallFromImageOnSheet(resection!.camera, moved, { axis: sheet.axis, at: sheet.at! }).out;
}

test.describe('with a finger', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 });

  test('a thumb pushes and erases; a second finger gives both up', async ({ page }) => {
    await openDesk(page, survey, photograph);
    await page.getByRole('tab', { name: 'Points' }).tap();
    const cdp = await page.context().newCDPSession(page);
    const send = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      touchPoints: { x: number; y: number; id: number }[],
    ) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints });
    for (const name of ['Push', 'Erase']) {
      await tool(page, name).tap();
      await page.evaluate(() => scrollTo(0, 0));
      const at = await pointAt(page, 250);
      const finger = (right: number, down: number, id = 0) => ({ x: at.x + right, y: at.y + down, id });
      await send('touchStart', [finger(0, 2)]);
      await send('touchMove', [finger(4, -10)]);
      await send('touchStart', [finger(4, -10), finger(60, 40, 1)]);
      await send('touchMove', [finger(4, -12), finger(70, 44, 1)]);
      await send('touchEnd', []);
      await expect(page.getByRole('button', { name: 'Undo' }).first()).toBeDisabled();
      await page.getByRole('button', { name: 'Whole picture' }).tap();
      await send('touchStart', [finger(0, 2)]);
      await send('touchMove', [finger(8, -1)]);
      await send('touchEnd', []);
      await expect(page.getByRole('button', { name: 'Undo' }).first()).toBeEnabled();
      if (name === 'Push') expect(await countOf(page, 'moved')).toBeGreaterThan(10);
      else expect((await line(page)).points.length).toBeLessThan(points.length);
      await page.getByRole('button', { name: 'Undo' }).first().tap();
      await expect.poll(async () => (await line(page)).points).toEqual(points);
    }
  });
});
