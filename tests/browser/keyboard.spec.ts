import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from '@playwright/test';
import type { Mark } from '../../src/core/survey.ts';
import { foundFile, sampleFolder } from './findSample.ts';
import { askOf, readKept, sample } from './guidedSurvey.ts';
import { Keys } from './keysOnly.ts';
import { expect, test } from './watch.ts';

test.use({ actionTimeout: 20_000 });

/** The photo that is marked by keys: suspects are found on its line. */
const photo = sample.photos[0]!;
/** One press of an arrow key moves the place where the keys are by so much (css px); plus shows it so much nearer. */
const CURSOR_PX = 12;
const NEARER = 1.5;
const ZOOMS = 6;

/** Puts a mark where a place of the picture is: arrows while it is shown whole, nearer, arrows again, Enter. Returns where the keys are. */
async function markByKeys(
  page: Page,
  keys: Keys,
  from: Pick<Mark, 'u' | 'v'>,
  to: Pick<Mark, 'u' | 'v'>,
): Promise<Pick<Mark, 'u' | 'v'>> {
  const whole = await page
    .getByRole('application')
    .evaluate((node) => Math.min(node.clientWidth / 4000, node.clientHeight / 3000));
  const at = { ...from };
  for (const scale of [whole, whole * NEARER ** ZOOMS]) {
    if (scale !== whole) await keys.press('+', ZOOMS);
    for (const [axis, back, on] of [
      ['u', 'ArrowLeft', 'ArrowRight'],
      ['v', 'ArrowUp', 'ArrowDown'],
    ] as const) {
      const steps = Math.round((to[axis] - at[axis]) / (CURSOR_PX / scale));
      await keys.press(steps < 0 ? back : on, Math.abs(steps));
      at[axis] += steps * (CURSOR_PX / scale);
    }
  }
  await keys.press('Enter');
  await keys.press('0');
  return at;
}

async function chooseFiles(page: Page, keys: Keys, field: Locator, files: string[]): Promise<void> {
  const asked = page.waitForEvent('filechooser');
  await keys.use(field);
  await (await asked).setFiles(files);
}

test('the whole job by keyboard alone: a new survey, a photo marked and put right, then surface, lining and papers', async ({
  page,
}) => {
  test.setTimeout(200_000);
  const keys = new Keys(page);
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  const link = (name: string | RegExp) => page.getByRole('link', { name });
  const field = (name: string) => page.getByRole('textbox', { name, exact: true });
  const heading = (name: string) =>
    expect(page.getByRole('heading', { level: 1, name })).toBeVisible({ timeout: 60_000 });
  const line = async () => (await readKept(page)).survey!.photos[0]!.lines[0]!;
  const told: string[] = [];
  const tell = (step: string, from: number) => told.push(`${step} ${keys.count - from}`);
  await page.goto('/');
  await heading('Surveys');

  await test.step('new survey, opening, readings', async () => {
    const from = keys.count;
    await keys.use(button('New survey'));
    await keys.write(field('Which wall'), 'By keys');
    await keys.write(field('Width of the wall'), '3600');
    await keys.write(field('Height of the wall'), '2450');
    await keys.use(button('Start the survey'));
    await heading('Wall');
    await keys.use(button('Add opening'));
    await keys.expectKept('adding an opening');
    const { along, up, width, height } = sample.wall.openings[0]!;
    for (const [name, value] of [
      ['From the left', along],
      ['From the floor', up],
      ['Width', width],
      ['Height', height],
    ] as const)
      await keys.write(
        page.getByRole('region', { name: 'The chosen thing' }).getByRole('textbox', { name, exact: true }),
        String(value),
      );
    await keys.use(link(/^Readings/), 'Shift+Tab');
    await heading('Readings');
    await keys.to(field('From the left'));
    for (const { along, up, distance } of sample.readings.slice(0, 3)) {
      for (const value of [along, up]) {
        await keys.type(String(value));
        await keys.press('Tab');
      }
      await keys.type(String(distance));
      await keys.press('Enter');
      await expect(field('From the left')).toBeFocused();
    }
    const { wall, readings } = (await readKept(page)).survey!;
    expect(wall.openings).toMatchObject([{ along, up, width, height }]);
    expect(readings.map(({ distance }) => distance)).toEqual(
      sample.readings.slice(0, 3).map(({ distance }) => distance),
    );
    tell('wall and readings', from);
  });

  await test.step('a photo added and marked in the guide', async () => {
    const from = keys.count;
    await keys.use(link(/^Photos/), 'Shift+Tab');
    await heading('Photos');
    await chooseFiles(page, keys, page.getByLabel('Add photos').first(), [join(sampleFolder, photo.file)]);
    await expect(link('Open photo f1')).toBeVisible({ timeout: 60_000 });
    await keys.expectKept('adding photos');
    await keys.use(link('Open photo f1'));
    await heading('Photo f1');
    const ask = askOf(page);
    await expect(ask.getByLabel('Height of the line')).toBeFocused({ timeout: 60_000 });
    await keys.type(String(photo.lines[0]!.sheet.at));
    await keys.press('Enter');
    await expect(ask.getByLabel('The tape above the floor')).toBeFocused();
    await keys.type(String(photo.marks[0]!.up));
    await keys.press('Enter');
    await expect(page.getByRole('application')).toBeFocused();
    let at: Pick<Mark, 'u' | 'v'> = { u: 1999.5, v: 1499.5 };
    const asked = [0, 3, 6, 7].map((index) => photo.marks[index]!);
    for (const [index, mark] of asked.entries()) {
      at = await markByKeys(page, keys, at, mark);
      await expect(
        index < 3 ? ask.getByText(`Mark ${index + 1}:`) : ask.getByText('All there.'),
      ).toBeVisible();
    }
    const { marks } = (await readKept(page)).survey!.photos[0]!;
    for (const [index, { u, v, along, up }] of asked.entries()) {
      expect(marks[index]).toMatchObject({ along, up });
      expect(Math.hypot(marks[index]!.u - u, marks[index]!.v - v), `mark ${index + 1}`).toBeLessThan(5);
    }
    await expect(button('On to all photos')).toBeFocused();
    await keys.press('Enter');
    await heading('Photos');
    await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toBeVisible({ timeout: 60_000 });
    tell('photo', from);
  });

  await test.step('its line put right', async () => {
    const from = keys.count;
    await keys.use(link('Open photo f1'));
    const picture = page.getByRole('application');
    await expect(picture).toBeVisible();
    await keys.to(picture);
    const found = await line();
    // the neighbour of the first point, half a pixel up, and by undo and redo back and there
    await keys.press('.', 2);
    await keys.press('ArrowUp', 2);
    const countOf = async (state: string) =>
      (await line()).points.filter((point) => point.state === state).length;
    const moved = async () => (await line()).points.filter(({ state }) => state === 'moved');
    await expect.poll(async () => (await moved()).length).toBe(1);
    await keys.press('Control+z', 2);
    await expect.poll(line).toEqual(found);
    await keys.press('Control+y', 2);
    await expect.poll(async () => (await moved())[0]?.v).toBeCloseTo(found.points[1]!.v - 0.5, 6);
    // of the suspects one is right and the next is left out
    const suspects = () => countOf('suspect');
    const [before, off] = [await suspects(), await countOf('off')];
    expect(before).toBeGreaterThan(1);
    await keys.press('n');
    await keys.press('a');
    await expect.poll(suspects).toBe(before - 1);
    await keys.press('o');
    await expect.poll(suspects).toBe(before - 2);
    expect(await countOf('off')).toBe(off + 1);
    await keys.press('0');
    // a gap from the middle on
    await keys.press('5');
    await keys.press('Enter');
    await keys.press('ArrowRight', 5);
    await keys.press('Enter');
    await expect.poll(async () => (await line()).gaps.filter(({ byHand }) => byHand).length).toBe(1);
    expect(await countOf('off')).toBeGreaterThan(off + 10);
    await expect(picture).toBeFocused();
    // away again by its button in the list, and back
    await keys.use(button('Take away the gap').first());
    await keys.expectKept('taking a gap away');
    await keys.press('Control+z');
    await expect.poll(async () => (await line()).gaps.filter(({ byHand }) => byHand).length).toBe(1);
    tell('putting right', from);
  });

  await test.step('another survey opened: surface, lining, papers', async () => {
    const from = keys.count;
    await keys.use(link(/^Surveys$/), 'Shift+Tab');
    await heading('Surveys');
    const folder = join(sampleFolder, 'photos');
    await chooseFiles(page, keys, page.getByLabel('Open a survey file'), [
      foundFile,
      ...readdirSync(folder).map((name) => join(folder, name)),
    ]);
    await heading('Photos');
    await keys.use(link('On to the surface'));
    await heading('Surface');
    await expect(page.getByRole('main').getByText('Solved from all that is known')).toBeVisible({
      timeout: 60_000,
    });
    await keys.use(link('On to the lining'));
    await heading('Lining');
    await keys.use(link('Plane and bed').last());
    const stands = page.getByRole('region', { name: 'Where the boards stand' });
    await expect(stands).toBeVisible();
    const before = await stands.innerText();
    await keys.write(field('Least bed'), '8');
    await keys.press('Enter');
    await expect(stands).not.toHaveText(before, { timeout: 60_000, useInnerText: true });
    await keys.expectKept('a new plan');
    await keys.use(link(/^Papers/), 'Shift+Tab');
    await heading('Papers');
    await expect(button('Save the plan as PDF')).toBeEnabled({ timeout: 60_000 });
    for (const [name, ending] of [
      ['Save the plan as PDF', /\.pdf$/],
      ['Survey, ZIP', /\.zip$/],
    ] as const) {
      const waiting = page.waitForEvent('download');
      await keys.use(button(name));
      expect((await waiting).suggestedFilename()).toMatch(ending);
      await expect(button(name)).toBeEnabled();
      await keys.expectKept(name);
    }
    tell('surface, lining, papers', from);
  });
  console.log(`${keys.count} keys: ${told.join(', ')}`);
});
