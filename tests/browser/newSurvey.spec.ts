import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from '@playwright/test';
import type { LiningPlan } from '../../src/core/results.ts';
import type { Mark, Survey } from '../../src/core/survey.ts';
import { expect, goTo, test } from './watch.ts';

const folder = new URL('../../samples/dairy-north-wall/', import.meta.url);
const sample = JSON.parse(readFileSync(new URL('survey.json', folder), 'utf8')) as Survey;
const truth = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8')) as {
  readonly stepMm: number;
  readonly nx: number;
  readonly out: readonly (number | null)[];
};
/** The plan of the sample as it is, with eight marks and a measured stand per photo (`npm run headless -- samples/dairy-north-wall`). */
const usual = {
  boards: ['1200 x 2400', '1200 x 2400', '1200 x 2400'],
  screws: 43,
  plane: { p: -39.4614, q: -0.002210162, r: 0 },
  volumeL: 32.482,
};
/** A screw's place off the wall is stated to about so much at worst on the sample (mm): a plan that states more proves nothing by agreeing. */
const MOST_STATED_MM = 1.5;
/** A bed that changes by as little moves a screw or two between one row's spacing and the next. */
const MOST_SCREWS_OFF = 2;
const planeAt = ({ p, q, r }: LiningPlan['bedPlane'], { along, up }: { along: number; up: number }) =>
  p + q * along + r * up;
const corners = [0, 3600].flatMap((along) => [0, 2450].map((up) => ({ along, up })));
/** Most clicks, taps and keys for a photo after the first. */
const MOST_ACTIONS = 14;

/** Counts what a user does in the page, before anything handles it: each press of a pointer and of a key. */
async function countActions(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const counts = { presses: 0, keys: 0 };
    Object.assign(window, { actions: counts });
    addEventListener('pointerdown', () => counts.presses++, true);
    addEventListener('keydown', () => counts.keys++, true);
  });
}
interface Counts {
  readonly presses: number;
  readonly keys: number;
}
/** Presses and keys since they were asked for the last time. */
const takeCounts = (page: Page): Promise<Counts> =>
  page.evaluate(() => {
    const { actions } = window as unknown as { actions: { presses: number; keys: number } };
    const taken = { ...actions };
    Object.assign(actions, { presses: 0, keys: 0 });
    return taken;
  });

const fill = async (page: Page, label: string, value: number | string) => {
  await page.getByLabel(label, { exact: true }).fill(String(value));
  await page.getByLabel(label, { exact: true }).blur();
};

async function startSurvey(page: Page): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: 'New survey' }).click();
  await fill(page, 'Which wall', 'Old dairy, typed in');
  await fill(page, 'Width of the wall', 3600);
  await fill(page, 'Height of the wall', 2450);
  await page.getByRole('button', { name: 'Start the survey' }).click();
  const { openings, boxes } = sample.wall;
  for (const [one, { along, up, width, height }] of [
    ['opening', openings[0]!],
    ['box', boxes[0]!],
  ] as const) {
    await page.getByRole('button', { name: `Add ${one}` }).click();
    const part = page.getByRole('region', { name: 'The chosen thing' });
    await expect(part.getByRole('heading', { name: one === 'box' ? /b1$/ : /o1$/ })).toBeVisible();
    for (const [label, value] of [
      ['From the left', along],
      ['From the floor', up],
      ['Width', width],
      ['Height', height],
    ] as const) {
      await part.getByLabel(label, { exact: true }).fill(String(value));
      await part.getByLabel(label, { exact: true }).blur();
    }
  }
  await goTo(page, 'Readings');
  for (const { along, up, distance } of sample.readings) {
    const form = page.locator('#new-reading');
    await form.getByLabel('From the left').fill(String(along));
    await form.getByLabel('From the floor').fill(String(up));
    await form.getByLabel('Plane to wall').fill(String(distance));
    await form.getByRole('button', { name: 'Add reading' }).click();
  }
  await goTo(page, 'Photos');
  const files = sample.photos.map(({ file }) => fileURLToPath(new URL(file, folder)));
  await page.getByLabel('Add photos').first().setInputFiles(files);
  await expect(page.getByRole('link', { name: /^Open photo/ })).toHaveCount(sample.photos.length, {
    timeout: 60_000,
  });
}

/** A click as a mouse does it, on a whole css px, where the whole picture shows an image point. */
async function clickAt(page: Page, { u, v }: Pick<Mark, 'u' | 'v'>, width: number, height: number) {
  const at = await page.getByRole('application').evaluate(
    (node, { u, v, width, height }) => {
      const { left, top } = node.getBoundingClientRect();
      const scale = Math.min(node.clientWidth / width, node.clientHeight / height);
      return {
        x: left + node.clientLeft + (node.clientWidth - width * scale) / 2 + (u + 0.5) * scale,
        y: top + node.clientTop + (node.clientHeight - height * scale) / 2 + (v + 0.5) * scale,
      };
    },
    { u, v, width, height },
  );
  await page.mouse.click(Math.round(at.x), Math.round(at.y));
}

/** Does what the guide asks for one photo of the sample, at the places that the sample's own marks have. */
async function markPhoto(page: Page, index: number, reload: boolean): Promise<Counts> {
  let before: Counts = { presses: 0, keys: 0 };
  const photo = sample.photos[index]!;
  const line = photo.lines[0]!;
  const level = line.sheet.axis === 'level';
  const ask = page.getByRole('region', { name: 'Next for this photo' });
  // the guide knows by itself which way the line runs
  const field = ask.getByLabel(level ? 'Height of the line' : 'The line from the left end');
  await expect(field).toBeFocused({ timeout: 120_000 });
  if ((await field.getAttribute('placeholder')) !== String(line.sheet.at))
    await page.keyboard.type(String(line.sheet.at));
  await page.keyboard.press('Enter');
  const tape = ask.getByLabel(level ? 'The tape above the floor' : 'The tape from the left end');
  await expect(tape).toBeFocused();
  await page.keyboard.type(String(level ? photo.marks[0]!.up : photo.marks[0]!.along));
  const along = level ? 'along' : 'up';
  const onTape = photo.marks.slice(0, 4);
  const [first, last] = [onTape[0]!, onTape[3]!];
  const [upper, lower] = [photo.marks[6]!, photo.marks[7]!];
  await expect(page.getByRole('application').locator('canvas').first()).toBeVisible();
  const size = [4000, 3000] as const;
  const [width, height] = level ? size : [size[1], size[0]];
  for (const [mark, words] of [
    [first, null],
    [last, `Tap ${last[along]} on the tape`],
    [upper, 'Tap the upper left corner of the window'],
    [lower, 'Tap the lower right corner of the window'],
  ] as const) {
    if (words) await expect(ask).toContainText(words);
    if (reload && mark === upper) {
      before = await takeCounts(page);
      await page.reload();
      await expect(ask).toContainText(words!, { timeout: 60_000 });
      await expect(page.getByText('Fetching the picture')).toHaveCount(0);
    }
    await clickAt(page, mark, width, height);
  }
  await expect(ask).toContainText('All there.');
  await expect(ask.locator('button.main')).toBeFocused();
  await page.keyboard.press('Enter');
  const { presses, keys } = await takeCounts(page);
  return { presses: before.presses + presses, keys: before.keys + keys };
}

interface Kept {
  readonly survey: Survey;
  readonly plan: LiningPlan | null;
}
/** The survey and its plan as kept on the device. */
const readKept = (page: Page): Promise<Kept> =>
  page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open('bedplane');
        opening.onerror = () => reject(opening.error!);
        opening.onsuccess = () => {
          const reading = opening.result.transaction(['surveys', 'results']);
          const surveys = reading.objectStore('surveys').getAll();
          const results = reading.objectStore('results').getAll();
          reading.oncomplete = () => {
            const [kept] = surveys.result as { survey: Survey }[];
            const [result] = results.result as { plan: LiningPlan | null }[];
            opening.result.close();
            resolve({ survey: kept!.survey, plan: result?.plan ?? null });
          };
        };
      }),
  );

test('a new survey from photographs alone, guided, comes to the plan of the sample', async ({ page }) => {
  test.setTimeout(240_000);
  await countActions(page);
  await startSurvey(page);
  await page.getByRole('link', { name: 'Open photo f1' }).click();
  const counted: (Counts & { photo: string })[] = [];
  for (const [index, photo] of sample.photos.entries()) {
    await expect(page.getByRole('heading', { level: 1, name: `Photo ${photo.id}` })).toBeVisible();
    await takeCounts(page);
    counted.push({ photo: photo.id, ...(await markPhoto(page, index, index === 3)) });
  }
  for (const { photo, presses, keys } of counted)
    console.log(`${photo}: ${presses} presses, ${keys} keys, ${presses + keys} actions`);

  await expect(page.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible();
  await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toHaveCount(8, { timeout: 240_000 });
  await goTo(page, 'Surface');
  await expect(page.getByRole('main').getByText('Solved from all that is known')).toBeVisible({
    timeout: 120_000,
  });
  await expect.poll(async () => (await readKept(page)).plan !== null, { timeout: 120_000 }).toBe(true);
  const { plan, survey } = await readKept(page);
  const boards = plan!.boards.map(({ width, height }) => `${width} x ${height}`);
  const apartMm = Math.max(
    ...corners.map((at) => Math.abs(planeAt(plan!.bedPlane, at) - planeAt(usual.plane, at))),
  );
  // the sample's true wall: how far the planned plane stands before it at the nearest place
  const leastMm = Math.min(
    ...truth.out.flatMap((out, i) => {
      const at = { along: (i % truth.nx) * truth.stepMm, up: Math.floor(i / truth.nx) * truth.stepMm };
      return out === null ? [] : [planeAt(plan!.bedPlane, at) - out];
    }),
  );
  const { volumeL } = plan!.adhesive;
  const stated = plan!.screws.map(({ sigma }) => sigma).sort((a, b) => a - b);
  const sigmaMm = stated[stated.length >> 1]!;
  console.log(
    `${boards.join(', ')}; ${plan!.screws.length} screws; plane ${apartMm.toFixed(2)} mm off, least bed on the true wall ` +
      `${leastMm.toFixed(2)} mm, stated to ${sigmaMm.toFixed(2)} mm; ${volumeL.toFixed(2)} L; sigmas ${survey.photos.map(({ marks }) => marks.map(({ sigma }) => sigma).join(' ')).join(', ')}`,
  );
  expect(boards).toEqual(usual.boards);
  expect(Math.abs(plan!.screws.length - usual.screws)).toBeLessThanOrEqual(MOST_SCREWS_OFF);
  // half as many marks and no measured stand: the plan may be off by what it states itself, twice its sigma, and from the sample's
  // plan, stated alike, by the root of both squares
  expect(sigmaMm).toBeLessThan(MOST_STATED_MM);
  expect(Math.abs(leastMm - sample.lining.bed.min)).toBeLessThan(2 * sigmaMm);
  expect(apartMm).toBeLessThan(2 * Math.SQRT2 * sigmaMm);
  expect(Math.abs(volumeL / usual.volumeL - 1)).toBeLessThan(0.03);
  for (const { photo, presses, keys } of counted.slice(1))
    expect(presses + keys, `actions for ${photo}`).toBeLessThanOrEqual(MOST_ACTIONS);
});
