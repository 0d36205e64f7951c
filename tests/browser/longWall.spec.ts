import type { Survey } from '../../src/core/survey.ts';
import { makeSurvey } from '../truth/survey.ts';
import { expect, goTo, test } from './watch.ts';

/** 12 m with a door and two windows twice over, their reveals boarded, and a reading each metre in three rows. */
function makeLongWall(): Survey {
  const { survey } = makeSurvey(11, 'plaster', { levels: [], plumbs: [] });
  const opening = (id: string, kind: string, along: number, up: number, width: number, height: number) => ({
    ...{ id, kind, along, up, width, height },
    reveal: 150,
  });
  const openings = [0, 6000].flatMap((from, k) => [
    opening(`door${k}`, 'door', from + 900, 0, 900, 2000),
    opening(`left${k}`, 'window', from + 2500, 900, 1100, 1200),
    opening(`right${k}`, 'window', from + 4600, 900, 1000, 1200),
  ]);
  const readings = [300, 2250].flatMap((up) =>
    Array.from({ length: 12 }, (_, k) => ({
      id: `r${up}-${k}`,
      along: 400 + 1000 * k,
      up,
      distance: 60 + 6 * Math.sin(k) * Math.cos(up / 800),
      sigma: 0.7,
    })),
  );
  const wall = { ...survey.wall, width: 12_000, height: 2450, openings, boxes: [] };
  return { ...survey, title: 'Long wall', wall, readings, photos: [], phones: [] };
}

test('a wall of 12 m with six openings is planned aside, with progress, cancelled and taken up again', async ({
  page,
}) => {
  test.setTimeout(240_000);
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles({
    name: 'survey.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(makeLongWall())),
  });
  await expect(page.getByRole('link', { name: /^Surveys, open now/ })).toContainText('Long wall');
  await goTo(page, 'Lining');
  const planned = page.getByRole('main').getByText('Bed plane, boards and screws set out');
  await expect(planned).toBeVisible({ timeout: 120_000 });
  await page.goto('/#lining/boards');
  await expect(page.getByRole('heading', { name: /^Cut list: \d+ boards$/ })).toBeVisible();

  // the worker that the page starts anew waits for its solver: long enough to look at what the page does meanwhile
  let release = () => {};
  const held = new Promise<void>((resolve) => (release = resolve));
  await page.route(/highs.*\.wasm/, async (route) => {
    await held;
    await route.continue();
  });
  await page.reload();
  await page.goto('/#lining/plane');
  await page.getByRole('button', { name: '1 sigma' }).click();
  const busy = page.getByRole('progressbar', { name: 'Planning the lining' });
  await expect(busy).toBeVisible();
  await page
    .getByRole('navigation', { name: 'Parts of the lining' })
    .getByRole('link', { name: 'Boards' })
    .click();
  await expect(page.getByRole('heading', { name: /^Cut list: \d+ boards$/ })).toBeVisible();
  await expect(busy).toBeVisible();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(busy).toBeHidden();
  await expect(page.getByText('what is shown here is old')).toBeVisible();
  release();
  await page.getByRole('button', { name: 'Solve again' }).click();
  await expect(page.getByText('what is shown here is old')).toBeHidden({ timeout: 60_000 });
  await expect(planned).toBeVisible({ timeout: 60_000 });
});
