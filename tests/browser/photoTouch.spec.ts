import type { CDPSession } from '@playwright/test';
import {
  drawPhotograph,
  makePhotoSurvey,
  openDesk,
  openPhoto,
  placeOnPage,
  readKeptPhoto,
} from './photoDesk.ts';
import { expect, expectSound, test } from './watch.ts';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 });

const survey = makePhotoSurvey();
const points = survey.photos[0]!.lines[0]!.points;
const picked = 210;
let photograph: Buffer;

test.beforeAll(async () => {
  photograph = await drawPhotograph(survey);
});

type Touch = { x: number; y: number; id: number };
const touch = (
  cdp: CDPSession,
  type: 'touchStart' | 'touchMove' | 'touchEnd' | 'touchCancel',
  touchPoints: Touch[],
) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints });

/** Every tool that a finger on the picture can be: where its button is, what it is called, and what it makes of the picture. */
const TOOLS = [
  ['Points', /^Add$/, 'add'],
  ['Points', /^Push$/, 'push'],
  ['Points', /^Erase$/, 'erase'],
  ['Points', /^Gap$/, 'gap'],
  ['Points', /^Pin$/, 'pin'],
  ['Marks', /^Set a mark$/, 'mark'],
  ['Line', /^Leave part of the picture out$/, 'mask'],
  ['Phone', /^Mark the packer on the picture$/, 'block'],
  ['Marks', /^Measure between two places$/, 'measure'],
] as const;

test('one finger moves the picked point, two never do, and a touch taken away changes nothing', async ({
  page,
}) => {
  await openDesk(page, survey, photograph);
  const cdp = await page.context().newCDPSession(page);
  const at = await placeOnPage(page, points[picked]!.u, points[picked]!.v);
  const finger = (right: number, down: number, id = 0): Touch => ({ x: at.x + right, y: at.y + down, id });
  const linePoints = async () => (await readKeptPhoto(page)).lines[0]!.points;
  const loupe = page.locator('[data-loupe]');

  await page.touchscreen.tap(at.x, at.y);
  await expect(page.getByRole('group', { name: 'The chosen point' })).toBeVisible();

  await test.step('pinch with the first finger on the point', async () => {
    await touch(cdp, 'touchStart', [finger(0, 0)]);
    await touch(cdp, 'touchMove', [finger(0, -14)]);
    await expect(loupe).toBeVisible();
    await touch(cdp, 'touchStart', [finger(0, -14), finger(60, -40, 1)]);
    for (let i = 1; i <= 6; i++)
      await touch(cdp, 'touchMove', [finger(-5 * i, -14), finger(60 + 8 * i, -40 - 4 * i, 1)]);
    await touch(cdp, 'touchEnd', [finger(-30, -14)]);
    await touch(cdp, 'touchMove', [finger(-30, -60)]);
    await touch(cdp, 'touchEnd', []);
    await expect(loupe).toHaveCount(0);
    await expect(page.getByRole('button', { name: 'Undo' }).first()).toBeDisabled();
    expect(await linePoints()).toEqual(points);
    await page.getByRole('button', { name: 'Whole picture' }).tap();
  });

  await test.step('pinch with every tool, wherever the first finger is', async () => {
    const before = await readKeptPhoto(page);
    for (const [tab, name, tool] of TOOLS) {
      await page.getByRole('tab', { name: tab }).tap();
      if (tool === 'block') {
        await page.getByLabel('Thickness of the packer').fill('12');
        await page.getByLabel('Thickness of the packer').blur();
      }
      await page.getByRole('button', { name }).first().tap();
      await expect(page.getByRole('application')).toHaveClass(new RegExp(`\\b${tool}\\b`));
      // the picture back to where the fingers are
      await page.evaluate(() => scrollTo(0, 0));
      await touch(cdp, 'touchStart', [finger(0, 4)]);
      await touch(cdp, 'touchMove', [finger(0, 16)]);
      await touch(cdp, 'touchStart', [finger(0, 16), finger(50, 40, 1)]);
      for (let i = 1; i <= 3; i++)
        await touch(cdp, 'touchMove', [finger(-6 * i, 16), finger(50 + 9 * i, 40, 1)]);
      await touch(cdp, 'touchEnd', [finger(-18, 16)]);
      await touch(cdp, 'touchMove', [finger(-30, -20)]);
      await touch(cdp, 'touchEnd', []);
      await expect(loupe, tool).toHaveCount(0);
      await expect(page.getByRole('button', { name: 'Undo' }).first(), tool).toBeDisabled();
      await page.getByRole('button', { name: 'Whole picture' }).tap();
      await page.getByRole('tab', { name: 'Points' }).tap();
    }
    await expect(page.getByLabel('Tape reads')).toHaveCount(0);
    expect(await readKeptPhoto(page)).toEqual(before);
    await page.touchscreen.tap(at.x, at.y);
    await expect(page.getByRole('group', { name: 'The chosen point' })).toBeVisible();
  });

  await test.step('a second tap shows the place close, and once more the whole picture', async () => {
    const isClose = () =>
      page.locator('.overview').evaluate((node) => new DOMMatrix(getComputedStyle(node).transform).a);
    const whole = await isClose();
    for (const nearer of [true, false]) {
      const { x, y } = await page.getByRole('application').evaluate((node) => {
        const box = node.getBoundingClientRect();
        return { x: box.left + box.width / 2, y: box.top + 30 };
      });
      await page.touchscreen.tap(x, y);
      await page.touchscreen.tap(x, y);
      if (nearer) await expect.poll(isClose).toBeGreaterThan(2 * whole);
      else await expect.poll(isClose).toBeCloseTo(whole, 6);
    }
    expect(await linePoints()).toEqual(points);
    await page.touchscreen.tap(at.x, at.y);
    await expect(page.getByRole('group', { name: 'The chosen point' })).toBeVisible();
  });

  await test.step('a touch that the system takes away', async () => {
    await touch(cdp, 'touchStart', [finger(0, 0)]);
    await touch(cdp, 'touchMove', [finger(0, -20)]);
    await expect(loupe).toBeVisible();
    await touch(cdp, 'touchCancel', []);
    await expect(loupe).toHaveCount(0);
    expect(await linePoints()).toEqual(points);
  });

  await test.step('one finger', async () => {
    await touch(cdp, 'touchStart', [finger(6, 9)]);
    for (let i = 1; i <= 5; i++) await touch(cdp, 'touchMove', [finger(6, 9 - 5 * i)]);
    await touch(cdp, 'touchEnd', []);
    await expect
      .poll(async () => (await linePoints()).filter((point) => point.state === 'moved').length)
      .toBe(1);
    const moved = (await linePoints()).find((point) => point.state === 'moved')!;
    const source = points.find((point) => Math.abs(point.u - moved.u) < 1e-9)!;
    expect(moved.v - source.v).toBeCloseTo(-25 / at.scale, 6);
  });
});

test('the page does not scroll under a finger on the picture, and does beside it', async ({ page }) => {
  await openDesk(page, survey, photograph);
  const touchAction = (selector: string) =>
    page
      .locator(selector)
      .first()
      .evaluate((node) => getComputedStyle(node).touchAction);
  expect(await touchAction('[role=application]')).toBe('none');
  expect(await touchAction('main')).toBe('auto');
});

test('every panel is sound on a phone and every target large enough for a thumb', async ({ page }) => {
  await openDesk(page, survey, photograph);
  for (const panel of ['Line', 'Marks', 'Phone', 'Points']) {
    await page.getByRole('tab', { name: panel }).tap();
    if (panel === 'Points') await page.getByRole('button', { name: 'Next suspect' }).tap();
    await expectSound(page, panel);
    const small = await page.evaluate(() =>
      // a file field is tapped by its label
      [
        ...document.querySelectorAll(
          'main button, main select, main label:has([type=file]), main input:not([type=checkbox], [type=file])',
        ),
      ]
        .filter((node) => node.checkVisibility())
        .map((node) => ({ node: node.outerHTML.slice(0, 90), box: node.getBoundingClientRect() }))
        .filter(({ box }) => box.height < 44 || box.width < 44)
        .map(({ node, box }) => `${node} ${box.width} × ${box.height}`),
    );
    expect(small, panel).toEqual([]);
  }
});

test('a phone held across shows the picture over its whole height and what is done beside it', async ({
  page,
}) => {
  await openDesk(page, survey, photograph);
  for (const [width, height] of [
    [844, 390],
    [932, 430],
  ] as const) {
    await page.setViewportSize({ width, height });
    const tools = page.getByRole('tab', { name: 'Points' });
    await tools.tap();
    await page.getByRole('button', { name: 'Next suspect' }).tap();
    const picture = (await page.getByRole('application').boundingBox())!;
    const chart = (await page.getByRole('img', { name: /^Profile of the wall/ }).boundingBox())!;
    const beside = (await tools.boundingBox())!;
    expect(beside.x).toBeGreaterThanOrEqual(picture.x + picture.width);
    // half of so low a screen and more is picture, the chart is under it, and none of both is under the rule
    expect(picture.height).toBeGreaterThan(height / 2);
    expect(picture.y).toBeGreaterThanOrEqual(0);
    const rule = (await page.getByRole('link', { name: 'Surveys', exact: true }).boundingBox())!;
    const free = width < 900 ? rule.y : height;
    expect(chart.y + chart.height).toBeLessThanOrEqual(free);
  }
});

for (const units of ['mm', 'inch'] as const)
  test(`the picture and every key of the number pad in ${units} are on small and low screens without scrolling`, async ({
    page,
  }) => {
    const photo = survey.photos[0]!;
    const line = photo.lines[0]!;
    const lines = [{ ...line, sheet: { ...line.sheet, at: null }, points: [] }];
    const unasked = { ...survey, units, photos: [{ ...photo, marks: [], tapes: [], lines }] };
    await openPhoto(page, unasked, photograph);
    const keys = page.getByRole('group', { name: 'Number pad' }).getByRole('button');
    for (const [width, height] of [
      [360, 640],
      [375, 667],
      [390, 844],
      [844, 390],
    ] as const) {
      await page.setViewportSize({ width, height });
      const where = `${width} x ${height}`;
      await expect(keys).toHaveCount(units === 'inch' ? 17 : 15);
      const hidden = await keys.evaluateAll(async (all) => {
        await new Promise(requestAnimationFrame);
        return all
          .map((key) => ({ key, box: key.getBoundingClientRect() }))
          .filter(({ key, box }) => {
            const ends = [box.top + 3, box.bottom - 3];
            const seen = ends.every((y) => key.contains(document.elementFromPoint(box.x + box.width / 2, y)));
            return !seen || box.width < 44 || box.height < 44;
          })
          .map(({ key, box }) => `${key.textContent} ${box.width} x ${box.height}`);
      });
      expect(hidden, where).toEqual([]);
      const picture = (await page.getByRole('application').boundingBox())!;
      expect(picture.y, where).toBeGreaterThanOrEqual(0);
      expect(picture.height, where).toBeGreaterThan(180);
    }
    // typed by half it is there again after the page was left
    await keys.filter({ hasText: /^9$/ }).tap();
    await keys.filter({ hasText: /^6$/ }).tap();
    await expect(page.locator('#asked-length')).toHaveValue('96');
    await page.reload();
    await expect(page.locator('#asked-length')).toHaveValue('96');
  });
