import type { Page } from '@playwright/test';
import { encodePhotograph } from '../../samples/make/jpeg.ts';
import type { Orientation } from '../../samples/make/exif.ts';
import type { LinePoint, Survey } from '../../src/core/survey.ts';
import { makeSurvey } from '../truth/survey.ts';
import { expect } from './watch.ts';

/** Size of the made photograph, px: a third of a phone's. */
export const WIDTH = 1344;
export const HEIGHT = 1008;
const SHRINK = 3;

/** A made survey of one photo, its line found at every second px, eight of the points suspect. */
export function makePhotoSurvey(): Survey {
  const { survey } = makeSurvey(71, 'plaster', { levels: [750], plumbs: [], everyPx: 6 });
  const [photo] = survey.photos;
  const shrink = (px: number) => Math.round(((px + 0.5) / SHRINK - 0.5) * 100) / 100;
  const points = photo!.lines[0]!.points.map((point, i): LinePoint => {
    const suspect = (i >= 300 && i < 306) || i === 100 || i === 500;
    return { ...point, u: shrink(point.u), v: shrink(point.v), state: suspect ? 'suspect' : 'found' };
  });
  const marks = photo!.marks.map((mark) => ({ ...mark, u: shrink(mark.u), v: shrink(mark.v) }));
  const lines = [{ ...photo!.lines[0]!, id: 'l1', points }];
  return {
    ...survey,
    title: 'Boathouse store',
    photos: [{ ...photo!, marks, lines, widthPx: WIDTH, heightPx: HEIGHT }],
  };
}

/** The photograph of that survey: a grey wall, a green line where the points are, a red square in the upper left corner. */
export async function drawPhotograph(survey: Survey, orientation: Orientation = 1): Promise<Buffer> {
  const rgba = new Uint8ClampedArray(WIDTH * HEIGHT * 4).fill(255);
  const paint = (u: number, v: number, colour: readonly number[]) => rgba.set(colour, (v * WIDTH + u) * 4);
  for (let v = 0; v < HEIGHT; v++)
    for (let u = 0; u < WIDTH; u++) {
      const grain = ((u * 7 + v * 13) % 11) * 2;
      paint(u, v, u < 120 && v < 90 ? [210, 30, 30] : [150 + grain, 148 + grain, 140 + grain]);
    }
  for (const { u, v } of survey.photos[0]!.lines[0]!.points)
    for (let across = -3; across <= 3; across++)
      for (const along of [0, 1])
        paint(Math.min(WIDTH - 1, Math.round(u) + along), Math.round(v) + across, [
          120,
          255 - 20 * Math.abs(across),
          130,
        ]);
  const picture = { widthPx: WIDTH, heightPx: HEIGHT, rgba };
  return Buffer.from(
    await encodePhotograph(picture, 90, {
      orientation,
      focal35Mm: 27,
      focalMm: 7,
      takenAt: '2024:05:14 09:12:40',
    }),
  );
}

/** Opens a survey with its photograph in the page and goes to the photo. */
export async function openPhoto(page: Page, survey: object, photograph: Buffer): Promise<void> {
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles([
    { name: 'survey.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(survey)) },
    { name: 'f1.jpg', mimeType: 'image/jpeg', buffer: photograph },
  ]);
  await page.getByRole('link', { name: 'Open photo f1' }).click();
  await expect(page.getByRole('application')).toBeVisible();
}

/** Opens a survey with its photograph in the page and shows the photo's desk with its profile. */
export async function openDesk(page: Page, survey: Survey, photograph: Buffer): Promise<void> {
  await openPhoto(page, survey, photograph);
  await expect(page.getByRole('img', { name: /^Profile of the wall along the line/ })).toBeVisible();
}

/** The photo as it is kept on the device. */
export async function readKeptPhoto(page: Page): Promise<Survey['photos'][number]> {
  return page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open('bedplane');
        opening.onerror = () => reject(opening.error!);
        opening.onsuccess = () => {
          const reading = opening.result.transaction('surveys').objectStore('surveys').getAll();
          reading.onsuccess = () => {
            const [kept] = reading.result as { survey: Survey }[];
            opening.result.close();
            resolve(kept!.survey.photos[0]!);
          };
        };
      }),
  );
}

/** A digest (SHA-256) of the whole survey as it is kept on the device, once all that was done is. */
export async function digestKept(page: Page): Promise<string> {
  return page.evaluate(async () => {
    const isSaved = () => document.querySelector('.saved')?.textContent?.includes('Saved on this device');
    while (!isSaved()) await new Promise(requestAnimationFrame);
    const request = <T>(of: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        of.onsuccess = () => resolve(of.result);
        of.onerror = () => reject(of.error!);
      });
    const database = await request(indexedDB.open('bedplane'));
    const store = database.transaction('surveys').objectStore('surveys');
    const [kept] = await request(store.getAll() as IDBRequest<{ survey: unknown }[]>);
    database.close();
    const text = JSON.stringify(kept!.survey);
    const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
    return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  });
}

/** Where an image point is on the page while the whole picture is shown, and how large one px is there. */
export async function placeOnPage(page: Page, u: number, v: number) {
  const box = await page.getByRole('application').evaluate((node) => {
    const { left, top } = node.getBoundingClientRect();
    return {
      x: left + node.clientLeft,
      y: top + node.clientTop,
      width: node.clientWidth,
      height: node.clientHeight,
    };
  });
  const scale = Math.min(box.width / WIDTH, box.height / HEIGHT);
  return {
    x: box.x + (box.width - WIDTH * scale) / 2 + (u + 0.5) * scale,
    y: box.y + (box.height - HEIGHT * scale) / 2 + (v + 0.5) * scale,
    scale,
  };
}
