import type { CDPSession, Page } from '@playwright/test';
import { seedRandom } from '../truth/random.ts';
import { drawPhotograph, makePhotoSurvey, openDesk, placeOnPage, readKeptText } from './photoDesk.ts';
import { expect, test } from './watch.ts';

test.use({ hasTouch: true });

const GESTURES = 300;
const SEED = 41;
const survey = makePhotoSurvey();
const points = survey.photos[0]!.lines[0]!.points;
const KEYS = [
  ...['ArrowUp', 'ArrowDown', 'ArrowLeft', 'Shift+ArrowDown', 'Enter', 'Escape', 'Delete'],
  ...['n', 'p', '.', ',', 'a', 'o', '[', ']', 'h', 'h', '0'],
];

test('300 gestures with every tool, undo and redo among them, agree with a plain list of surveys', async ({
  page,
}) => {
  await openDesk(page, survey, await drawPhotograph(survey));
  const picture = page.getByRole('application');
  const chart = (await page.getByRole('img', { name: /^Profile of the wall along the line/ }).boundingBox())!;
  const cdp = await page.context().newCDPSession(page);
  const random = seedRandom(SEED);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random.between(0, of.length))]!;

  /** A place on the page near the line, as the picture lies when it is shown whole. */
  const near = async () => {
    const { u, v } = points[Math.floor(random.between(0, points.length))]!;
    const { x, y } = await placeOnPage(page, u, v);
    return { x, y: y + random.between(-6, 6) };
  };
  const gesture = async () => {
    const draw = random.between(0, 1);
    if (draw < 0.3) {
      await picture.press(pick(KEYS));
      return;
    }
    if (draw < 0.4) {
      await picture.press(pick(['1', '2', '3', '4', '5', '7']));
      return;
    }
    const by = { x: random.between(-30, 30), y: random.between(-14, 14) };
    const onChart = { x: chart.x + random.between(40, chart.width - 40), y: chart.y + chart.height / 2 };
    if (draw < 0.5) return drag(page, onChart, by);
    await picture.press('0');
    const from = await near();
    if (draw < 0.58) return touch(cdp, from, by);
    if (draw < 0.66) return page.mouse.click(from.x, from.y);
    return drag(page, from, by);
  };

  const list = [await readKeptText(page)];
  let at = 0;
  for (let step = 0; step < GESTURES; step++) {
    const draw = random.between(0, 1);
    if (draw < 0.14) {
      await picture.press('Control+z');
      at = Math.max(0, at - 1);
    } else if (draw < 0.22) {
      await picture.press('Control+Shift+z');
      at = Math.min(list.length - 1, at + 1);
    } else {
      await gesture();
      const kept = await readKeptText(page);
      if (kept !== list[at]) list.splice(++at, Infinity, kept);
      continue;
    }
    expect((await readKeptText(page)) === list[at], `after step ${step}`).toBe(true);
  }
  expect(list.length).toBeGreaterThan(80);
  // a tool in hand, with something begun by keys, is put down first
  await picture.press('Escape');
  for (; at > 0; at--) {
    expect((await readKeptText(page)) === list[at], `undone to ${at}`).toBe(true);
    await picture.press('Control+z');
  }
  expect(await readKeptText(page)).toBe(list[0]);
  await expect(page.getByRole('button', { name: 'Undo' }).first()).toBeDisabled();
  for (; at < list.length - 1; at++) await picture.press('Control+Shift+z');
  await expect(page.getByRole('button', { name: 'Redo' }).first()).toBeDisabled();
  expect(await readKeptText(page)).toBe(list[at]);
});

async function drag(page: Page, from: { x: number; y: number }, by: { x: number; y: number }) {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + by.x / 2, from.y + by.y);
  await page.mouse.move(from.x + by.x, from.y + by.y);
  await page.mouse.up();
}

async function touch(cdp: CDPSession, from: { x: number; y: number }, by: { x: number; y: number }) {
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', x: number, y: number) =>
    cdp.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y, id: 0 }] });
  await send('touchStart', from.x, from.y);
  await send('touchMove', from.x + by.x, from.y + by.y);
  await send('touchEnd', 0, 0);
}
