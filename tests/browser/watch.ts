import { expect, test as base, type Page } from '@playwright/test';
import type { AxeResults, RunOptions } from 'axe-core';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

// put into a page once and run there: the builder of @axe-core/playwright puts it in anew each time and opens a second page for its
// report, a quarter as fast. A page here is one document without frames.
const builder = createRequire(import.meta.url).resolve('@axe-core/playwright');
const axeSource = readFileSync(createRequire(builder).resolve('axe-core/axe.min.js'), 'utf8');

/** Console errors and breaches of the security policy seen while a test ran; any of them fails it. */
export const test = base.extend<{ faults: string[] }>({
  faults: [
    async ({ page }, use) => {
      const faults: string[] = [];
      page.on('console', (message) => {
        if (message.type() === 'error') faults.push(`console: ${message.text()}`);
      });
      page.on('pageerror', (error) => faults.push(`page: ${String(error)}`));
      await page.addInitScript(() => {
        addEventListener('securitypolicyviolation', (event) =>
          console.error(`policy: ${event.violatedDirective} blocked ${event.blockedURI}`),
        );
      });
      await use(faults);
      expect(faults).toEqual([]);
    },
    { auto: true },
  ],
});

/** No sideways scroll, once what follows a new size has been painted. */
export async function expectFits(page: Page, where: string): Promise<void> {
  const sideways = await page.evaluate(async () => {
    const painted = () => new Promise(requestAnimationFrame);
    await painted();
    await painted();
    return document.documentElement.scrollWidth - innerWidth;
  });
  expect(sideways, `${where} scrolls sideways`).toBeLessThanOrEqual(0);
}

/** No sideways scroll, nothing axe complains about; `colours` false: where they are the same as where they were looked at. */
export async function expectSound(page: Page, where: string, { colours = true } = {}): Promise<void> {
  await expectFits(page, where);
  if (await page.evaluate(() => !('axe' in window))) await page.evaluate(axeSource);
  const { violations } = await page.evaluate(
    (enabled) =>
      (window as unknown as { axe: { run(options: RunOptions): Promise<AxeResults> } }).axe.run({
        resultTypes: ['violations'],
        rules: { 'color-contrast': { enabled } },
      }),
    colours,
  );
  const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' | ')}`);
  expect(found, where).toEqual([]);
}

/** Looks at the page wide and on a phone, as each of the media; it is wide afterwards. */
export async function expectSoundAtBoth(
  page: Page,
  where: string,
  media: readonly ('screen' | 'print')[] = ['screen'],
): Promise<void> {
  for (const each of media) {
    await page.emulateMedia({ media: each });
    for (const [width, height] of [phone, wide]) {
      await page.setViewportSize({ width, height });
      await expectSound(page, `${where}, ${each}, ${width} px`, { colours: width === wide[0] });
    }
  }
  await page.emulateMedia({ media: 'screen' });
}

const phone = [390, 844] as const;
const wide = [1440, 900] as const;

/** Goes to a place by its graduation on the rule. */
export async function goTo(page: Page, place: string): Promise<void> {
  await page.locator(`nav a[href="#${place.toLowerCase()}"]`).click();
  await expect(page.getByRole('heading', { level: 1, name: place })).toBeVisible();
}

export { expect };
