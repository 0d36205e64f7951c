// Faults that browsers and phones bring to photographs, against the built files. What Node can show of them is in
// tests/vision/pictureTraps.test.ts and tests/workers/decode.test.ts.
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { unzipSync } from 'fflate';
import type { Orientation } from '../../samples/make/exif.ts';
import { addPhoto, makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Photo, Survey } from '../../src/core/survey.ts';
import { parseSurvey } from '../../src/file/survey.ts';
import { joinAll, makeSegment, makeTiff, secret } from '../file/pictures.ts';
import { putProfile, toDisplayP3, writeDisplayP3Profile } from '../truth/displayP3.ts';
import { comparePoints, findInFile, writePhotograph } from '../truth/photographFile.ts';
import { greenPlaster, takePhotograph } from '../truth/scenes.ts';
import { expect, goTo, test } from './watch.ts';

const wall = makeSurvey('Boathouse store', 3600, 2450, 'mm');
const sample = new URL('../../samples/dairy-north-wall/', import.meta.url);
const picture = takePhotograph(greenPlaster());

const file = (name: string, bytes: Uint8Array, mimeType = '') => ({
  name,
  mimeType,
  buffer: Buffer.from(bytes),
});

/** A survey of photographs of which nothing is known but the line to look for. */
function surveyOf(names: readonly string[]): Survey {
  const facts = { widthPx: picture.widthPx, heightPx: picture.heightPx, focal35Mm: 27 };
  return names.reduce(
    (survey, name) =>
      addPhoto(survey, makePhoto(survey, `photos/${name}`, facts, { axis: 'level', colour: 'green' })),
    wall,
  );
}

async function openSurvey(page: Page, survey: Survey, photographs: ReadonlyMap<string, Uint8Array>) {
  await page.goto('/');
  await page
    .getByLabel('Open a survey file')
    .setInputFiles([
      file('survey.json', Buffer.from(JSON.stringify(survey)), 'application/json'),
      ...[...photographs].map(([name, bytes]) => file(name, bytes, 'image/jpeg')),
    ]);
  await expect(page.getByRole('link', { name: /^Open photo/ })).toHaveCount(survey.photos.length);
}

/** All records of one store on the device, bytes as text of one letter each. */
async function readStore(page: Page, name: 'surveys' | 'photos'): Promise<unknown[]> {
  return page.evaluate(
    (name) =>
      new Promise<unknown[]>((resolve, reject) => {
        const opening = indexedDB.open('bedplane');
        opening.onerror = () => reject(opening.error!);
        opening.onsuccess = () => {
          const reading = opening.result.transaction(name).objectStore(name).getAll();
          reading.onsuccess = () => {
            opening.result.close();
            const letters = (bytes: Uint8Array) => Array.from(bytes, (b) => String.fromCharCode(b)).join('');
            const records: unknown[] = reading.result;
            resolve(
              records.map((each) => (each instanceof ArrayBuffer ? letters(new Uint8Array(each)) : each)),
            );
          };
        };
      }),
    name,
  );
}

/** The one kept survey's photos. */
const readPhotos = async (page: Page): Promise<Photo[]> => {
  const [kept] = (await readStore(page, 'surveys')) as { survey: { photos: Photo[] } }[];
  return kept?.survey.photos ?? [];
};

const countPoints = async (page: Page) => (await readPhotos(page)).at(-1)?.lines[0]?.points.length ?? 0;

const findAll = async (page: Page, photos: number) => {
  await page.getByRole('button', { name: 'Find the line in all photos' }).click();
  await expect(page.getByText(/green level line .*: \d{3,} points/)).toHaveCount(photos, { timeout: 60_000 });
};

test('Test the built worker: eight EXIF orientations and wide-gamut photos, the same points as in Node', async ({
  page,
}) => {
  const photographs = new Map<string, Uint8Array>();
  for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8] as Orientation[])
    photographs.set(`turned${orientation}.jpg`, await writePhotograph(picture, orientation));
  const profile = writeDisplayP3Profile();
  photographs.set('wide.jpg', putProfile(await writePhotograph(toDisplayP3(picture)), profile));
  photographs.set('tagged.jpg', putProfile(photographs.get('turned1.jpg')!, profile));
  const survey = surveyOf([...photographs.keys()]);
  await openSurvey(page, survey, photographs);
  await findAll(page, survey.photos.length);
  await expect.poll(() => countPoints(page)).toBeGreaterThan(1000);
  const photos = await readPhotos(page);
  const first = photos[0]!.lines[0]!.points;
  for (const [index, [name, bytes]] of [...photographs].entries()) {
    const seen = photos[index]!;
    expect([seen.widthPx, seen.heightPx], name).toEqual([picture.widthPx, picture.heightPx]);
    const { points } = seen.lines[0]!;
    await test.step(`${name} as in Node`, async () => {
      const { common, nearlyAllPx, rmsPx } = comparePoints(await findInFile(bytes), points);
      expect(common).toBeGreaterThan(0.99);
      expect(rmsPx).toBeLessThan(0.02);
      expect(nearlyAllPx).toBeLessThan(0.05);
    });
    await test.step(`${name} as the first`, () => {
      const { common, nearlyAllPx, rmsPx } = comparePoints(first, points);
      expect(common).toBeGreaterThan(0.99);
      expect(rmsPx).toBeLessThan(0.05);
      expect(nearlyAllPx).toBeLessThan(0.1);
    });
  }
});

test('One canvas is at most 16,777,216 px: a photograph of 48 megapixels is added and measured over its whole width', async ({
  page,
}) => {
  await openSurvey(page, surveyOf([]), new Map());
  await goTo(page, 'Photos');
  const base64 = await page.evaluate(async () => {
    const [width, height] = [8000, 6000];
    const canvas = new OffscreenCanvas(width, height);
    const context = canvas.getContext('2d')!;
    context.fillStyle = 'rgb(140, 138, 130)';
    context.fillRect(0, 0, width, height);
    const line = context.createLinearGradient(0, 2990, 0, 3014);
    line.addColorStop(0, 'rgb(140, 138, 130)');
    line.addColorStop(0.5, 'rgb(150, 255, 150)');
    line.addColorStop(1, 'rgb(140, 138, 130)');
    context.fillStyle = line;
    context.fillRect(0, 2990, width, 24);
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.8 });
    return new Promise<string>((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve((reader.result as string).split(',')[1]!);
      reader.readAsDataURL(blob);
    });
  });
  await page
    .getByLabel('Add photos')
    .first()
    .setInputFiles(file('large.jpg', Buffer.from(base64, 'base64')));
  await expect(page.getByText(/8000 × 6000 px, about 0\.\d mm of wall to a pixel/)).toBeVisible();
  await findAll(page, 1);
  await expect.poll(() => countPoints(page)).toBeGreaterThan(7900);
  const { points } = (await readPhotos(page))[0]!.lines[0]!;
  for (const { v } of points.slice(20, -20)) expect(Math.abs(v - 3001.5)).toBeLessThan(0.1);
});

test('Allocation failure aborts uncatchably: another worker measures the same photo smaller, and the user is told', async ({
  page,
}) => {
  // the first worker that gets a photograph dies of it
  await page.addInitScript(() => {
    let died = false;
    globalThis.Worker = class extends Worker {
      override postMessage(...sent: [message: unknown]): void {
        if (died || !(sent[0] as { ask?: { blob?: Blob } }).ask?.blob) return super.postMessage(...sent);
        died = true;
        setTimeout(() => this.dispatchEvent(new ErrorEvent('error', { cancelable: true })));
      }
    };
  });
  const whole = parseSurvey(readFileSync(new URL('survey.json', sample), 'utf8'));
  const bytes = readFileSync(new URL('photos/f1.jpg', sample));
  const photo = { ...whole.photos[0]!, widthPx: 4000, heightPx: 3000 };
  await openSurvey(page, { ...whole, photos: [photo] }, new Map([['f1.jpg', bytes]]));
  await findAll(page, 1);
  await expect(page.getByText(/Photo f1: this device has no memory for the whole picture/)).toBeVisible();
  await expect.poll(() => countPoints(page)).toBeGreaterThan(1500);
  const kept = (await readPhotos(page))[0]!;
  expect([kept.widthPx, kept.heightPx]).toEqual([4000, 3000]);
  const full = new Map((await findInFile(bytes)).map(({ u, v }) => [u, v]));
  const apart = kept.lines[0]!.points.map(({ u, v }) => Math.abs(v - (full.get(Math.floor(u)) ?? NaN)))
    .filter(Number.isFinite)
    .sort((a, b) => a - b);
  expect(apart.length).toBeGreaterThan(1500);
  expect(apart[apart.length >> 1]).toBeLessThan(0.3);
});

test('HEIC where the browser cannot decode it is told by its signature; what the browser can decode opens as a JPEG', async ({
  page,
}) => {
  await openSurvey(page, surveyOf([]), new Map());
  await goTo(page, 'Photos');
  const heic = Buffer.from('\0\0\0\x18ftypmif1\0\0\0\0mif1heic', 'latin1');
  const webp = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(400, 300);
    canvas.getContext('2d')!.fillRect(0, 0, 400, 300);
    const blob = await canvas.convertToBlob({ type: 'image/webp' });
    return [...new Uint8Array(await blob.arrayBuffer())];
  });
  await page
    .getByLabel('Add photos')
    .first()
    .setInputFiles([
      file('IMG_1.jpg', heic, 'image/jpeg'),
      file('IMG_2', heic),
      file('IMG_3.heic', Uint8Array.from(webp), 'image/heic'),
    ]);
  await expect(page.getByText(/IMG_1\.jpg is a HEIC picture.*most compatible/)).toBeVisible();
  await expect(page.getByText(/IMG_2 is a HEIC picture.*most compatible/)).toBeVisible();
  await expect(page.getByRole('link', { name: 'Open photo f1' })).toBeVisible();
  await expect
    .poll(async () => (await readPhotos(page)).map((photo) => photo.file))
    .toEqual(['photos/IMG_3.jpg']);
  expect(await readStore(page, 'photos')).toEqual([expect.stringMatching(/^\xff\xd8\xff/)]);
});

test('Photos carry the GPS position: nothing of it is kept or exported; Shrunk photos: told before any result', async ({
  page,
}) => {
  await openSurvey(page, surveyOf([]), new Map());
  await goTo(page, 'Photos');
  const plain = await writePhotograph(picture);
  const exif = Buffer.from('Exif\0\0', 'latin1');
  const rest = plain.subarray(4 + 256 * plain[4]! + plain[5]!);
  const located = joinAll([0xff, 0xd8], makeSegment(0xe1, joinAll(exif, makeTiff(true, 1))), rest);
  expect(Buffer.from(located).includes(secret)).toBe(true);
  await page.getByLabel('Add photos').first().setInputFiles(file('home.jpg', located));
  await expect(
    page.getByText(/1280 × 960 px, about 2\.8 mm of wall to a pixel: expect ±1\.3 mm/),
  ).toBeVisible();
  await expect(page.getByText(/Photo f1: fewer than 8 megapixels/)).toBeVisible();
  await expect.poll(async () => (await readPhotos(page)).length).toBe(1);
  const stored = await readStore(page, 'photos');
  expect(stored).toEqual([expect.stringMatching(/^\xff\xd8/)]);
  expect(stored[0]).not.toContain(secret);
  // 26 mm, but with a digital zoom of 1.5
  expect((await readPhotos(page))[0]!.focal35Mm).toBeNull();
  await goTo(page, 'Papers');
  const waiting = page.waitForEvent('download');
  await page.getByRole('listitem').getByRole('button', { name: 'Survey, ZIP' }).click();
  const zip = unzipSync(readFileSync(await (await waiting).path()));
  expect(Object.keys(zip)).toContain('photos/home.jpg');
  for (const content of Object.values(zip)) expect(Buffer.from(content).includes(secret)).toBe(false);
});

test('The picker: no camera stream; a page thrown out of memory meanwhile comes back to the same step', async ({
  page,
  context,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Which wall').fill('Boathouse');
  await page.getByLabel('Width of the wall').fill('3600');
  await page.getByLabel('Height of the wall').fill('2450');
  await page.getByLabel('Height of the wall').blur();
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await goTo(page, 'Photos');
  const input = page.getByLabel('Add photos').first();
  expect(await input.getAttribute('capture')).toBeNull();
  const choosing = page.waitForEvent('filechooser');
  await page.getByText('Add photos', { exact: true }).click();
  await choosing;
  const address = page.url();
  await page.close();
  const again = await context.newPage();
  await again.goto(address);
  await expect(again.getByRole('heading', { level: 1, name: 'Photos' })).toBeVisible();
  await expect(again.getByText('Boathouse').first()).toBeVisible();
  await again
    .getByLabel('Add photos')
    .first()
    .setInputFiles(file('a.jpg', await writePhotograph(picture)));
  await expect(again.getByRole('link', { name: 'Open photo f1' })).toBeVisible();
});
