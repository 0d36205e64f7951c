import type { CDPSession, Page } from '@playwright/test';
import { seedRandom } from '../truth/random.ts';
import { digestKept, drawPhotograph, makePhotoSurvey, openDesk, placeOnPage } from './photoDesk.ts';
import { expect, test } from './watch.ts';

// a trace of so many steps costs more than the steps
test.use({ hasTouch: true, trace: 'off' });

const GESTURES = 300;
const SEED = 41;
const survey = makePhotoSurvey();
const points = survey.photos[0]!.lines[0]!.points;
const KEYS = [
  ...['ArrowUp', 'ArrowDown', 'ArrowLeft', 'Shift+ArrowDown', 'Enter', 'Escape', 'Delete'],
  ...['n', 'p', '.', ',', 'a', 'o', 'o', '[', ']', '0'],
];

test('300 gestures with every tool, undo and redo among them, agree with a plain list of surveys', async ({
  page,
}) => {
  test.slow();
  await openDesk(page, survey, await drawPhotograph(survey));
  const picture = page.getByRole('application');
  // a click beside the picture takes the keys away from it
  const press = async (key: string) => {
    await picture.evaluate((node) => node.focus({ preventScroll: true }));
    await page.keyboard.press(key);
  };
  const chart = (await page.getByRole('img', { name: /^Profile of the wall along the line/ }).boundingBox())!;
  const cdp = await page.context().newCDPSession(page);
  const random = seedRandom(SEED);
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random.between(0, of.length))]!;

  /** A place on the page near the line, as the picture lies when it is shown whole. */
  const corner = await placeOnPage(page, 0, 0);
  const near = () => {
    const { u, v } = points[Math.floor(random.between(0, points.length))]!;
    return { x: corner.x + u * corner.scale, y: corner.y + v * corner.scale + random.between(-6, 6) };
  };
  /** Where the line was tapped last: a drag from there takes the point along. */
  let tapped = near();
  const gesture = async () => {
    const draw = random.between(0, 1);
    if (draw < 0.3) {
      await press(pick(KEYS));
      return;
    }
    if (draw < 0.4) {
      await press(pick(['1', '2', '2', '3', '3', '4', '5', '7']));
      return;
    }
    const by = { x: random.between(-30, 30), y: random.between(-14, 14) };
    const onChart = { x: chart.x + random.between(40, chart.width - 40), y: chart.y + chart.height / 2 };
    if (draw < 0.5) return drag(page, onChart, by);
    await press('0');
    if (draw < 0.64) {
      tapped = near();
      return page.mouse.click(tapped.x, tapped.y);
    }
    const from = draw < 0.82 ? tapped : near();
    return draw < 0.7 ? touch(cdp, from, by) : drag(page, from, by);
  };

  const list = [await digestKept(page)];
  let at = 0;
  let changes = 0;
  for (let step = 0; step < GESTURES; step++) {
    const draw = random.between(0, 1);
    if (draw < 0.14) {
      await press('Control+z');
      at = Math.max(0, at - 1);
    } else if (draw < 0.22) {
      await press('Control+Shift+z');
      at = Math.min(list.length - 1, at + 1);
    } else {
      await gesture();
      const kept = await digestKept(page);
      if (kept === list[at]) continue;
      list.splice(++at, Infinity, kept);
      changes++;
      continue;
    }
    expect((await digestKept(page)) === list[at], `after step ${step}`).toBe(true);
  }
  expect(changes).toBeGreaterThan(80);
  // a tool in hand, with something begun by keys, is put down first
  await press('Escape');
  for (; at > 0; at--) {
    expect((await digestKept(page)) === list[at], `undone to ${at}`).toBe(true);
    await press('Control+z');
  }
  expect(await digestKept(page)).toBe(list[0]);
  await expect(page.getByRole('button', { name: 'Undo' }).first()).toBeDisabled();
  for (; at < list.length - 1; at++) await press('Control+Shift+z');
  await expect(page.getByRole('button', { name: 'Redo' }).first()).toBeDisabled();
  expect(await digestKept(page)).toBe(list[at]);
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
