import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { foundFile, sampleFolder } from './findSample.ts';
import { expect } from './watch.ts';

/** Opens the sample survey as "Find the line in all photos" leaves it (journey.spec does that in the page): on Photos, 8 photos. */
export async function openFoundSample(page: Page): Promise<void> {
  await page.goto('/');
  const pictures = readdirSync(join(sampleFolder, 'photos')).map((name) =>
    join(sampleFolder, 'photos', name),
  );
  await page.getByLabel('Open a survey file').setInputFiles([foundFile, ...pictures]);
  await expect(page.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible({ timeout: 60_000 });
  await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toHaveCount(8);
}
