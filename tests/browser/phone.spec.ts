import { openFoundSample } from './foundSample.ts';
import { expect, expectSound, goTo, test } from './watch.ts';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

test('the whole way on a phone, by touch', async ({ page }) => {
  test.setTimeout(150_000);
  await page.goto('/');
  await expectSound(page, 'first screen');
  await openFoundSample(page);
  await expectSound(page, 'photos');

  await page.getByRole('link', { name: 'Open photo f1' }).tap();
  await page.getByRole('tab', { name: 'Points' }).tap();
  await expectSound(page, 'photo');
  await page.getByRole('button', { name: '‹ Photos' }).tap();

  await page.getByRole('link', { name: 'On to the surface' }).tap();
  await expect(page.getByRole('main').getByText('Solved from all that is known')).toBeVisible({
    timeout: 60_000,
  });
  await expectSound(page, 'surface');
  await page.getByRole('link', { name: 'On to the lining' }).tap();
  await expect(page.getByRole('img', { name: /^Plan of the lining/ })).toBeVisible();
  await expectSound(page, 'lining');
  await page.getByRole('link', { name: 'On to: Plane and bed' }).tap();
  await expectSound(page, 'plane and bed');
  await goTo(page, 'Papers');
  await expectSound(page, 'papers');
  const waiting = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the plan as PDF' }).tap();
  expect((await waiting).suggestedFilename()).toMatch(/\.pdf$/);
  for (const place of ['Wall', 'Readings']) {
    await goTo(page, place);
    await expectSound(page, place);
  }
});

test('every graduation of the rule and every button is large enough for a thumb', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Open the sample survey' }).tap();
  for (const place of ['Surveys', 'Wall', 'Readings', 'Photos', 'Papers']) {
    await goTo(page, place);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('button, input, select, a[href]:not(td a)')]
        .filter((node) => !node.classList.contains('hidden') && node.checkVisibility())
        .map((node) => ({ node: node.outerHTML.slice(0, 90), box: node.getBoundingClientRect() }))
        .filter(({ box }) => box.height < 44 || box.width < 44)
        .map(({ node, box }) => `${node} ${box.width} × ${box.height}`),
    );
    expect(small, place).toEqual([]);
  }
});
