import { expect, test } from '@playwright/test';

test.use({ serviceWorkers: 'allow' });

test('after one visit the page opens and finds its place without a network', async ({ page, context }) => {
  await page.goto('/');
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => null));
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Which wall').fill('Loft, gable');
  await page.getByLabel('Width of the wall').fill('4200');
  await page.getByLabel('Height of the wall').fill('2400');
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Wall' })).toBeVisible();
  await context.setOffline(true);
  await page.reload();
  await expect(page.getByRole('heading', { level: 1, name: 'Wall' })).toBeVisible();
  // both workers' wasm, OpenCV and HiGHS, are in the copy too
  const wasm = await page.evaluate(async () => {
    const names = await caches.keys();
    const requests = await (await caches.open(names[0]!)).keys();
    return requests.filter(({ url }) => /\/(opencv|highs)[^/]*\.wasm$/.test(url)).length;
  });
  expect(wasm).toBe(2);
});
