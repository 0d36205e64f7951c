import type { Locator, Page } from '@playwright/test';
import { makeSurvey } from '../truth/survey.ts';
import { expect, expectSound, expectSoundAtBoth, goTo, test } from './watch.ts';

// one opening and one box, three lines, six readings; nothing to solve first
const { survey } = makeSurvey(5, 'plaster', {
  levels: [500, 1900],
  plumbs: [2600],
  everyPx: 40,
  openings: [{ along: 1000, up: 900, width: 700, height: 1100 }],
  boxes: [{ along: 2900, up: 300, width: 80, height: 80, proud: 0 }],
});

async function openWall(page: Page): Promise<Locator> {
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles({
    name: 'survey.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(survey)),
  });
  await goTo(page, 'Wall');
  return page.getByRole('application', { name: 'The wall to arrange' });
}

const middleOf = async (of: Locator) => {
  const { x, y, width, height } = (await of.boundingBox())!;
  return { x: x + width / 2, y: y + height / 2 };
};

async function drag(page: Page, of: Locator, right: number, down: number): Promise<void> {
  const { x, y } = await middleOf(of);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + right / 2, y + down / 2);
  await page.mouse.move(x + right, y + down);
  await page.mouse.up();
}

const field = (page: Page, label: string) =>
  page.getByRole('region', { name: 'The chosen thing' }).getByLabel(label, { exact: true });
const figure = async (of: Locator) => Number((await of.inputValue()).replace('−', '-'));
const undo = (page: Page) => page.getByRole('button', { name: 'Undo' }).first();

test('things are dragged and sent by keys on the wall, readings typed and pasted, in mm and in inches', async ({
  page,
}) => {
  test.setTimeout(240_000);
  const wall = await openWall(page);
  const opening = wall.getByRole('button', { name: /^Window o1,/ });

  await test.step('an opening is dragged: one step of undo', async () => {
    const before = await opening.boundingBox();
    await drag(page, opening, 90, -40);
    await expect(opening).toHaveAttribute('aria-pressed', 'true');
    const along = await figure(field(page, 'From the left'));
    expect(along).toBeGreaterThan(1200);
    expect(along % 5).toBe(0);
    expect(await figure(field(page, 'From the floor'))).toBeGreaterThan(950);
    expect((await opening.boundingBox())!.x - before!.x).toBeCloseTo(90, -1);
    await undo(page).click();
    await expect(field(page, 'From the left')).toHaveValue('1000');
    await expect(undo(page)).toBeDisabled();
  });

  await test.step('its right edge is dragged; the left one stays', async () => {
    await drag(page, wall.locator('[data-handle="1 0"]'), 60, 30);
    expect(await figure(field(page, 'Width'))).toBeGreaterThan(850);
    await expect(field(page, 'From the left')).toHaveValue('1000');
    await expect(field(page, 'Height')).toHaveValue('1100');
    await undo(page).click();
    await expect(field(page, 'Width')).toHaveValue('700');
  });

  await test.step('keys move it, and a figure typed beside it does', async () => {
    await opening.focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowUp');
    await page.keyboard.press('Alt+ArrowLeft');
    await expect(field(page, 'From the left')).toHaveValue('1004');
    await expect(field(page, 'From the floor')).toHaveValue('950');
    await page.keyboard.press('Enter');
    await expect(field(page, 'From the left')).toBeFocused();
    await page.keyboard.type('-100');
    await page.keyboard.press('Tab');
    await expect(page.getByText(/reaches beyond the left end of the wall/).first()).toBeVisible();
    await expectSoundAtBoth(page, 'wall with an opening beyond it');
    await opening.focus();
    await page.keyboard.press('Delete');
    await expect(opening).toHaveCount(0);
    for (let k = 0; k < 5; k++) await undo(page).click();
    await expect(undo(page)).toBeDisabled();
  });

  await test.step('a line moves only when it was chosen, in steps of 5 mm', async () => {
    const line = wall.getByRole('button', { name: /^Level line .*, 500 mm from the floor/ });
    const { y, height } = (await line.boundingBox())!;
    const x = (await middleOf(line)).x + 60;
    const pull = async () => {
      await page.mouse.move(x, y + height / 2);
      await page.mouse.down();
      await page.mouse.move(x, y + height / 2 - 20, { steps: 3 });
      await page.mouse.up();
    };
    await pull();
    await expect(undo(page)).toBeDisabled();
    await page.mouse.click(x, y + height / 2);
    await pull();
    const up = await figure(field(page, 'From the floor'));
    expect(up).toBeGreaterThan(550);
    expect(up % 5).toBe(0);
    await undo(page).click();
  });

  await test.step('an opening is drawn on the bare wall', async () => {
    await page.getByRole('button', { name: 'Draw an opening' }).click();
    const box = (await wall.boundingBox())!;
    await page.mouse.move(box.x + 0.62 * box.width, box.y + 0.3 * box.height);
    await page.mouse.down();
    await page.mouse.move(box.x + 0.75 * box.width, box.y + 0.5 * box.height, { steps: 3 });
    await page.mouse.up();
    await expect(page.getByRole('region', { name: 'Openings' }).getByRole('button')).toHaveCount(2);
    await expect(page.getByRole('button', { name: 'Draw an opening' })).toHaveAttribute(
      'aria-pressed',
      'false',
    );
    await undo(page).click();
  });

  await goTo(page, 'Readings');
  const rows = page.locator('tr[data-reading]');
  const cell = (id: string, name: string) => page.getByLabel(`${id}, ${name}`);
  const count = survey.readings.length;

  await test.step('a reading is dragged', async () => {
    const before = await figure(cell('r1', 'from the left'));
    await drag(page, wall.getByRole('button', { name: /^Reading r1,/ }), 50, 0);
    expect(await figure(cell('r1', 'from the left'))).toBeGreaterThan(before + 150);
    await expect(cell('r1', 'from the floor')).toHaveValue(String(survey.readings[0]!.up));
    await undo(page).click();
    expect(await figure(cell('r1', 'from the left'))).toBe(before);
  });

  await test.step('one is typed with Tab and Enter alone, and the next is open', async () => {
    const open = page.locator('#new-reading').getByLabel('From the left');
    await cell(`r${count}`, 'from the left').focus();
    await page.keyboard.press('Enter');
    await expect(open).toBeFocused();
    await page.keyboard.type('1,2 m');
    await page.keyboard.press('Tab');
    await page.keyboard.type('90 cm');
    await page.keyboard.press('Tab');
    await page.keyboard.type('61.5');
    await page.keyboard.press('Enter');
    await expect(rows).toHaveCount(count + 1);
    await expect(open).toBeFocused();
    await expect(open).toHaveValue('');
    await expect(cell(`r${count + 1}`, 'from the left')).toHaveValue('1200');
    await expect(cell(`r${count + 1}`, 'plane to wall')).toHaveValue('61.5');
    await page.keyboard.press('ArrowUp');
    await expect(cell(`r${count + 1}`, 'from the left')).toBeFocused();
  });

  await test.step('three rows are pasted, one of them wrong: two are taken over, the third waits', async () => {
    await page.locator('#new-reading').getByLabel('From the left').focus();
    await page.evaluate(() => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', 'left\tfloor\tplane\n600\t400\t62,5\n700\t4oo\t63\n800\t450\t64');
      const paste = new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true });
      document.activeElement!.dispatchEvent(paste);
    });
    await expect(rows).toHaveCount(count + 3);
    await expect(page.getByRole('alert')).toContainText('"4oo" is no length');
    const left = page.getByRole('textbox', { name: /^One reading a row/ });
    await expect(left).toHaveValue('left\tfloor\tplane\n700\t4oo\t63');
    await expectSoundAtBoth(page, 'readings with a row to be put right');
    await left.fill('700\t400\t63');
    await page.getByRole('button', { name: 'Take the rows over' }).click();
    await expect(rows).toHaveCount(count + 4);
    await expect(page.getByRole('alert')).toHaveCount(0);
    await undo(page).click();
    await undo(page).click();
    await expect(rows).toHaveCount(count + 1);
  });

  await test.step('inches are typed as fractions', async () => {
    await goTo(page, 'Wall');
    await page.getByLabel('Lengths in').selectOption('inch');
    await goTo(page, 'Readings');
    const read = cell(`r${count + 1}`, 'plane to wall');
    await expect(read).toHaveAttribute('inputmode', 'text');
    await read.fill('61 1/2"');
    await read.blur();
    await expect(read).toHaveValue('61 1/2');
    // the longest figures in the narrowest cells
    await page.setViewportSize({ width: 390, height: 844 });
    await expectSound(page, 'readings in inches');
    await page.setViewportSize({ width: 1440, height: 900 });
    await goTo(page, 'Wall');
    await page.getByLabel('Lengths in').selectOption('mm');
    await goTo(page, 'Readings');
    await expect(read).toHaveValue('1562.1');
  });
});

test.describe('on a phone', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test('a finger chooses a small box, then drags it; two fingers and a touch taken away move nothing', async ({
    page,
  }) => {
    const wall = await openWall(page);
    const box = wall.getByRole('button', { name: /^Socket b1,/ });
    const cdp = await page.context().newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd' | 'touchCancel', ...points: number[][]) =>
      cdp.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: points.map(([x, y], id) => ({ x: x!, y: y!, id })),
      });
    const { width, height } = (await box.boundingBox())!;
    expect(Math.min(width, height)).toBeGreaterThanOrEqual(44);
    const { x, y } = await middleOf(box);
    await page.touchscreen.tap(x, y);
    await expect(box).toHaveAttribute('aria-pressed', 'true');

    const at = await middleOf(box);
    await touch('touchStart', [at.x, at.y]);
    await touch('touchMove', [at.x - 30, at.y]);
    await touch('touchStart', [at.x - 30, at.y], [at.x - 90, at.y - 60]);
    await touch('touchMove', [at.x - 40, at.y], [at.x - 120, at.y - 90]);
    await touch('touchEnd');
    await touch('touchStart', [at.x, at.y]);
    await touch('touchMove', [at.x - 30, at.y]);
    await touch('touchCancel');
    await expect(undo(page)).toBeDisabled();

    await touch('touchStart', [at.x, at.y]);
    for (let k = 1; k <= 5; k++) await touch('touchMove', [at.x - 10 * k, at.y]);
    await touch('touchEnd');
    await expect(undo(page)).toBeEnabled();
    expect(await figure(field(page, 'From the left'))).toBeLessThan(2600);
    await expect(field(page, 'Width')).toHaveValue('80');
  });
});
