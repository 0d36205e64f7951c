import {
  askOf,
  countActions,
  expectUsualPlan,
  markPhoto,
  mouseAndKeys,
  sample,
  startSurvey,
  takeCounts,
  type Counts,
} from './guidedSurvey.ts';
import { expect, goTo, test } from './watch.ts';

/** Most clicks and keys for a photo after the first. */
const MOST_ACTIONS = 14;

test('a new survey from photographs alone, guided, comes to the plan of the sample', async ({ page }) => {
  test.setTimeout(240_000);
  await countActions(page);
  await startSurvey(page, mouseAndKeys);
  await page.getByRole('link', { name: 'Open photo f1' }).click();
  const counted: (Counts & { photo: string })[] = [];
  for (const [index, { id }] of sample.photos.entries()) {
    await expect(page.getByRole('heading', { level: 1, name: `Photo ${id}` })).toBeVisible();
    await takeCounts(page);
    const reload = async () => {
      await page.reload();
      await expect(askOf(page)).toBeVisible({ timeout: 60_000 });
    };
    counted.push({
      photo: id,
      ...(await markPhoto(page, mouseAndKeys, index, index === 3 ? reload : undefined)),
    });
  }
  for (const { photo, presses, keys } of counted)
    console.log(`${photo}: ${presses} presses, ${keys} keys, ${presses + keys} actions`);

  await expect(page.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible();
  await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toHaveCount(8, { timeout: 240_000 });
  await goTo(page, 'Surface');
  await expectUsualPlan(page);
  for (const { photo, presses, keys } of counted.slice(1))
    expect(presses + keys, `actions for ${photo}`).toBeLessThanOrEqual(MOST_ACTIONS);
});
