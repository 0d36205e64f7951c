import AxeBuilder from '@axe-core/playwright';
import { expect, test as base, type Page } from '@playwright/test';

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

/** No sideways scroll, nothing axe complains about. */
export async function expectSound(page: Page, where: string): Promise<void> {
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(sideways, `${where} scrolls sideways`).toBeLessThanOrEqual(0);
  // one frame, and of what is well no list: the same violations in a third of the time
  const axe = new AxeBuilder({ page }).setLegacyMode().options({ resultTypes: ['violations'] });
  const { violations } = await axe.analyze();
  const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' | ')}`);
  expect(found, where).toEqual([]);
}

/** Goes to a place by its graduation on the rule. */
export async function goTo(page: Page, place: string): Promise<void> {
  await page.locator(`nav a[href="#${place.toLowerCase()}"]`).click();
  await expect(page.getByRole('heading', { level: 1, name: place })).toBeVisible();
}

export { expect };
