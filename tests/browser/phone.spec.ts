import { expect, expectSound, goTo, test } from './watch.ts';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

test('every graduation of the rule and every button is large enough for a thumb', async ({ page }) => {
  await page.goto('/');
  await expectSound(page, 'first screen on a phone');
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
