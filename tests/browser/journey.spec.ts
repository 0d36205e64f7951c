import { readFileSync } from 'node:fs';
import { inflateSync } from 'node:zlib';
import type { Download, Page } from '@playwright/test';
import { expect, expectSound, goTo, test } from './watch.ts';

const sampleTruth = JSON.parse(
  readFileSync(new URL('../../samples/dairy-north-wall/expected.json', import.meta.url), 'utf8'),
) as { k1: number };

async function exportFile(page: Page, title: string): Promise<{ download: Download; bytes: Buffer }> {
  const waiting = page.waitForEvent('download');
  await page.getByRole('listitem').getByRole('button', { name: title }).click();
  const download = await waiting;
  return { download, bytes: readFileSync(await download.path()) };
}

/** The content streams of a PDF, inflated where they are deflated (ISO 32000-1, 7.3.8 and 7.4.4). */
function readPdfStreams(pdf: Buffer): string {
  const text = pdf.toString('latin1');
  return [...text.matchAll(/<<([^]*?)>>\s*stream\r?\n([^]*?)\r?\nendstream/g)]
    .map(([, head, body]) =>
      head!.includes('FlateDecode') ? inflateSync(Buffer.from(body!, 'latin1')).toString('latin1') : body!,
    )
    .join('\n');
}

const figures = (page: Page) => page.getByRole('region', { name: 'Figures of the surface' }).innerText();

test('from the sample to the papers, a reload, and the ZIP opened again', async ({ page }, info) => {
  test.setTimeout(300_000);
  await page.goto('/');
  await expectSound(page, 'first screen');

  await test.step('open the sample in one click', async () => {
    await page.getByRole('button', { name: 'Open the sample survey' }).click();
    await expect(page.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible({ timeout: 30_000 });
    await expect(page.getByRole('link', { name: /^Open photo/ })).toHaveCount(8);
  });

  await test.step('wall and readings are there', async () => {
    await goTo(page, 'Wall');
    await expect(page.getByLabel('Width').first()).toHaveValue('3600');
    await expectSound(page, 'wall');
    await goTo(page, 'Readings');
    await expect(page.getByLabel('r6, plane to wall')).toBeVisible();
    await expectSound(page, 'readings');
  });

  await test.step('find the line in all photos, with progress', async () => {
    await goTo(page, 'Photos');
    await page.getByRole('button', { name: 'Find the line in all photos' }).click();
    await expect(page.getByText(/^Photo f\d: [1-8] of 8$/)).toBeVisible();
    await expect(page.getByText('Photo f3: 3 of 8')).toBeVisible({ timeout: 60_000 });
    await expect(page.getByRole('link', { name: 'On to the surface' })).toBeVisible({ timeout: 90_000 });
    await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toHaveCount(8);
    await expectSound(page, 'photos');
  });

  await test.step('correct a point by hand, undo, redo', async () => {
    await page.getByRole('link', { name: 'Open photo f2' }).click();
    await page.getByRole('tab', { name: 'Points' }).click();
    await expectSound(page, 'photo');
    const picture = page.getByRole('application');
    await picture.focus();
    await page.keyboard.press('.');
    await page.getByRole('button', { name: /^Move the point up/ }).click();
    await expect(page.getByText('1 set by hand')).toBeVisible();
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect(page.getByText('0 set by hand')).toBeVisible();
    await page.getByRole('button', { name: 'Redo' }).first().click();
    await expect(page.getByText('1 set by hand')).toBeVisible();
  });

  await test.step('solve: the lens comes out as it was made', async () => {
    await goTo(page, 'Surface');
    await expect(page.getByRole('main').getByText('Solved from all that is known')).toBeVisible({
      timeout: 60_000,
    });
    const k1 = /k1\s+([−\d.]+)/.exec(await figures(page))?.[1]?.replace('−', '-');
    expect(Math.abs(Number(k1) - sampleTruth.k1)).toBeLessThan(0.004);
    await expect(page.getByRole('img', { name: 'The wall seen straight on' })).toBeVisible();
    await expectSound(page, 'surface');
  });

  const solved = await figures(page);
  const screws = await test.step('see the plan', async () => {
    await goTo(page, 'Lining');
    await expect(page.getByRole('img', { name: /^Plan of the lining/ })).toBeVisible();
    await expectSound(page, 'lining');
    const words = await page.getByRole('link', { name: /^Gauge screws \d+ screws/ }).innerText();
    return Number(/(\d+) screws/.exec(words)?.[1]);
  });
  expect(screws).toBeGreaterThan(10);
  await test.step('a deeper least bed is planned anew at once, and undo brings the plan back', async () => {
    await page.goto('/#lining/plane');
    const stands = page.getByRole('region', { name: 'Where the boards stand' });
    const before = await stands.innerText();
    await page.getByLabel('Least bed').fill('8');
    await page.getByLabel('Least bed').blur();
    await expect(stands).not.toHaveText(before, { timeout: 60_000, useInnerText: true });
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect(stands).toHaveText(before, { timeout: 60_000, useInnerText: true });
  });

  await goTo(page, 'Papers');
  await expectSound(page, 'papers');
  await test.step('SVG', async () => {
    const { download, bytes } = await exportFile(page, 'Plan, SVG');
    expect(download.suggestedFilename()).toBe('Old-dairy-workshop-north-wall.svg');
    const texts = await page.evaluate((text) => {
      const parsed = new DOMParser().parseFromString(text, 'image/svg+xml');
      if (parsed.querySelector('parsererror')) throw new Error('not well-formed');
      return [...parsed.querySelectorAll('text')].map((node) => node.textContent ?? '');
    }, bytes.toString('utf8'));
    expect(texts.length).toBeGreaterThan(screws);
    expect(texts.join(' ')).toContain('Old dairy workshop');
  });
  await test.step('PDF', async () => {
    const { bytes } = await exportFile(page, 'Plan, PDF');
    expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
    const content = readPdfStreams(bytes);
    expect(content.match(/\bTj\b/g)?.length ?? 0).toBeGreaterThan(screws);
    expect(content).toContain('Old dairy workshop');
    expect(bytes.toString('latin1')).not.toContain('/Subtype /Image');
  });
  await test.step('PNG', async () => {
    const { bytes } = await exportFile(page, 'Plan, picture');
    expect(bytes.subarray(1, 4).toString()).toBe('PNG');
    const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
    expect(width).toBe(3500);
    expect(height / width).toBeCloseTo(210 / 297, 2);
  });
  await test.step('CSV', async () => {
    const { bytes } = await exportFile(page, 'Screw list, CSV');
    const rows = bytes.toString('utf8').trimEnd().split('\r\n');
    expect(rows.length).toBe(screws + 1);
    expect(new Set(rows.map((row) => row.split(',').length)).size).toBe(1);
  });
  const zip = info.outputPath('survey.zip');
  await test.step('ZIP', async () => {
    const { download, bytes } = await exportFile(page, 'Survey, ZIP');
    expect(bytes.subarray(0, 2).toString()).toBe('PK');
    await download.saveAs(zip);
    await expect(page.getByText(/last saved as a ZIP on \d/)).toBeVisible();
  });

  await test.step('after a reload everything is there again', async () => {
    await page.reload();
    await expect(page.getByRole('heading', { level: 1, name: 'Papers' })).toBeVisible();
    await expect(page.getByRole('button', { name: 'Save the plan as PDF' })).toBeEnabled();
    await page.goto('/#photos/f2');
    await page.reload();
    await expect(page.getByRole('heading', { level: 1, name: 'Photo f2' })).toBeVisible();
    await page.getByRole('tab', { name: 'Points' }).click();
    await expect(page.getByText('1 set by hand')).toBeVisible();
    await goTo(page, 'Surface');
    expect(await figures(page)).toBe(solved);
  });

  await test.step('the ZIP opens again to the same result', async () => {
    await goTo(page, 'Surveys');
    await page.getByLabel('Open a survey file').setInputFiles(zip);
    await expect(page.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible({ timeout: 30_000 });
    await expect(page.getByText(/line at [\d]+ mm: [\d]{3,} points/)).toHaveCount(8);
    await goTo(page, 'Surface');
    await expect(page.getByRole('main').getByText('Solved from all that is known')).toBeVisible({
      timeout: 60_000,
    });
    expect(await figures(page)).toBe(solved);
    await goTo(page, 'Surveys');
    await expect(page.getByRole('button', { name: /^Old dairy workshop/ })).toHaveCount(2);
  });
});
