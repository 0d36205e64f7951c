import type { Page } from '@playwright/test';
import { expect, goTo, test } from './watch.ts';

const file = (name: string, bytes: Buffer | string) => ({
  name,
  mimeType: 'application/octet-stream',
  buffer: Buffer.from(bytes),
});

async function openSample(page: Page): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: 'Open the sample survey' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible();
}

/** A picture of a plain plastered wall, no laser on it: grey with a little noise of a fixed seed. */
async function makePlainWall(page: Page): Promise<Buffer> {
  const base64 = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    canvas.width = 2000;
    canvas.height = 1500;
    const context = canvas.getContext('2d')!;
    const image = context.createImageData(2000, 1500);
    let seed = 12345;
    for (let i = 0; i < image.data.length; i += 4) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      const grey = 150 + (seed >>> 28);
      image.data.set([grey, grey - 4, grey - 12, 255], i);
    }
    context.putImageData(image, 0, 0);
    return canvas.toDataURL('image/jpeg', 0.9).split(',')[1]!;
  });
  return Buffer.from(base64, 'base64');
}

test('a wrong survey file says what is wrong, and the open survey stays', async ({ page }) => {
  await openSample(page);
  await goTo(page, 'Surveys');
  const chooser = page.getByLabel('Open a survey file');
  const notice = page.getByRole('alert');
  const cases: [string, string | Buffer, RegExp][] = [
    ['broken.json', '{"format": ', /broken\.json is not a survey/],
    ['other.json', '{"a": 1}', /not a survey of this tool/],
    ['newer.json', '{"format":"bedplane-survey","version":99}', /newer version \(file version 99/],
    [
      'wall.json',
      '{"format":"bedplane-survey","version":1,"wall":{"width":"wide","height":2450}}',
      /fault at wall\.width/,
    ],
    ['cut.zip', Buffer.from('PK\x03\x04cut short'), /cannot be unpacked/],
    ['notes.txt', 'hello', /not a survey/],
  ];
  for (const [name, content, sentence] of cases) {
    await chooser.setInputFiles(file(name, content));
    await expect(notice).toContainText(sentence);
  }
  await expect(page.getByText('Old dairy workshop, north wall').first()).toBeVisible();
  await goTo(page, 'Photos');
  await expect(page.getByRole('link', { name: /^Open photo/ })).toHaveCount(8);
});

test('what is no photograph is refused in place, a photo without laser gets no points', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Which wall').fill('Plain wall');
  await page.getByLabel('Width of the wall').fill('3.6 m');
  await page.getByLabel('Height of the wall').fill('2450');
  await page.getByLabel('Height of the wall').blur();
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await goTo(page, 'Photos');
  const chooser = page.getByLabel('Add photos').first();
  await chooser.setInputFiles([
    file('notes.jpg', 'this is no picture'),
    file('IMG_2041.JPG', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0', 'latin1')),
    file('torn.jpg', Buffer.from('\xff\xd8\xff\xe0torn', 'latin1')),
  ]);
  await expect(page.getByText(/notes\.jpg cannot be read as a picture/)).toBeVisible();
  await expect(page.getByText(/IMG_2041\.JPG is a HEIC picture.*most compatible/)).toBeVisible();
  await expect(page.getByText(/torn\.jpg cannot be read as a picture/)).toBeVisible();
  await expect(page.getByRole('link', { name: /^Open photo/ })).toHaveCount(0);

  await chooser.setInputFiles(file('plain.jpg', await makePlainWall(page)));
  await expect(page.getByRole('link', { name: 'Open photo f1' })).toBeVisible();
  await page.getByRole('button', { name: 'Find the line in all photos' }).click();
  await expect(page.getByText(/Photo f1: no laser line found/)).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText('no points yet')).toBeVisible();
  await goTo(page, 'Surface');
  await expect(page.getByText(/nothing to make a surface from/)).toBeVisible();
});

/** Lets only so many asks through to workers, so that a job stands still at a known photo however fast the machine is. */
async function holdAsks(page: Page): Promise<(count: number) => Promise<void>> {
  await page.addInitScript(() => {
    const held: (() => void)[] = [];
    let allowed = 0;
    const release = () => {
      for (; allowed > 0 && held.length > 0; allowed--) held.shift()!();
    };
    globalThis.Worker = class extends Worker {
      override postMessage(message: unknown): void {
        held.push(() => super.postMessage(message));
        release();
      }
    };
    const allowAsks = (count: number) => {
      allowed = count;
      release();
    };
    // what a cancelled job asked of a worker that is gone
    const forgetAsks = () => held.splice(0);
    Object.assign(globalThis, { allowAsks, forgetAsks });
  });
  return (count) =>
    page.evaluate((allowed) => {
      const hooks = globalThis as unknown as { allowAsks: (n: number) => void; forgetAsks: () => void };
      if (allowed === 0) hooks.forgetAsks();
      else hooks.allowAsks(allowed);
    }, count);
}

test('finding can be cancelled: what was found stays, and it starts again', async ({ page }) => {
  const allow = await holdAsks(page);
  await openSample(page);
  const start = page.getByRole('button', { name: 'Find the line in all photos' });
  const found = page.getByText(/: [\d]{3,} points/);
  await start.click();
  await allow(1);
  await expect(page.getByText(/^Photo f2: 2 of 8$/)).toBeVisible({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(start).toBeVisible();
  await expect(found).toHaveCount(1);
  await allow(0);
  await start.click();
  await allow(1);
  await expect(page.getByText(/^Photo f3: 2 of 7$/)).toBeVisible({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(found).toHaveCount(2);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(found).toHaveCount(1);
});

test('a length that is none is told beside its field and nothing changes', async ({ page }) => {
  await openSample(page);
  await goTo(page, 'Wall');
  const width = page.getByRole('region', { name: 'The wall' }).getByLabel('Width');
  await width.fill('wide');
  await width.blur();
  await expect(page.getByRole('alert')).toContainText('Type a length');
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  await width.fill('3,65 m');
  await width.blur();
  await expect(width).toHaveValue('3650');
  await expect(page.getByRole('alert')).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(width).toHaveValue('3600');
});

test('a survey that was deleted can be put back', async ({ page }) => {
  await openSample(page);
  await goTo(page, 'Surveys');
  await page.getByRole('button', { name: 'Delete Old dairy workshop, north wall' }).click();
  await page.getByRole('button', { name: 'Put back' }).click();
  await page.getByRole('button', { name: /^Old dairy workshop/ }).click();
  await goTo(page, 'Photos');
  await expect(page.getByRole('link', { name: /^Open photo/ })).toHaveCount(8);
});
