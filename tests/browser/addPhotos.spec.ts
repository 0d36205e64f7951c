import type { Page } from '@playwright/test';
import { encodePhotograph } from '../../samples/make/jpeg.ts';
import { drawPhotograph, makePhotoSurvey } from './photoDesk.ts';
import { expect, expectSound, goTo, test } from './watch.ts';

const jpeg = (name: string, buffer: Buffer) => ({ name, mimeType: 'image/jpeg', buffer });
const cards = (page: Page) => page.getByRole('link', { name: /^Open photo/ });
const undo = (page: Page) => page.getByRole('button', { name: 'Undo' }).first();

/** Plain pictures, each its own file, as a phone takes them. */
const plain = async (tone: number, takenAt: string, quality = 90) =>
  Buffer.from(
    await encodePhotograph(
      {
        widthPx: 640,
        heightPx: 480,
        rgba: new Uint8ClampedArray(4 * 640 * 480).map((_, k) => (k % 4 === 3 ? 255 : tone + ((k >> 9) % 7))),
      },
      quality,
      { orientation: 1, focal35Mm: 27, focalMm: 7, takenAt },
    ),
  );

/** Hands files to the page as a drop or a paste does; `onto` = where. */
async function hand(page: Page, kind: 'drop' | 'paste', files: ReturnType<typeof jpeg>[], onto = 'body') {
  const sent = files.map(({ name, mimeType, buffer }) => ({ name, mimeType, bytes: [...buffer] }));
  await page.evaluate(
    ({ kind, sent, onto }) => {
      const transfer = new DataTransfer();
      for (const { name, mimeType, bytes } of sent)
        transfer.items.add(new File([Uint8Array.from(bytes)], name, { type: mimeType }));
      const options = { bubbles: true, cancelable: true };
      const target = document.querySelector(onto)!;
      if (kind === 'paste')
        target.dispatchEvent(new ClipboardEvent('paste', { ...options, clipboardData: transfer }));
      else target.dispatchEvent(new DragEvent('drop', { ...options, dataTransfer: transfer }));
    },
    { kind, sent, onto },
  );
}

test('photos are chosen, dropped and pasted; duplicates are told; one choice is one step of undo', async ({
  page,
}) => {
  test.setTimeout(180_000);
  const [a, b, c] = await Promise.all([
    plain(90, '2026:03:14 09:30:00'),
    plain(120, '2026:03:14 09:30:05'),
    plain(150, '2026:03:14 09:30:09'),
  ]);
  await page.goto('/');
  await page.getByRole('button', { name: 'New survey' }).click();
  await page.getByLabel('Which wall').fill('Net loft');
  await page.getByLabel('Width of the wall').fill('3600');
  await page.getByLabel('Height of the wall').fill('2450');
  await page.getByRole('button', { name: 'Start the survey' }).click();
  await goTo(page, 'Photos');
  const chooser = page.getByLabel('Add photos');
  expect(await chooser.getAttribute('multiple')).not.toBeNull();

  await test.step('two at once, each with its facts and what to do about them', async () => {
    await chooser.setInputFiles([jpeg('a.jpg', a), jpeg('b.jpg', b)]);
    await expect(cards(page)).toHaveCount(2);
    await expect(cards(page).first()).toContainText('0.3 MP, 27 mm lens, 14 Mar 2026, 09:30, site phone');
    await expect(cards(page).first()).toContainText(/Photo f1: fewer than 8 megapixels/);
    await expect(cards(page).first().locator('img')).toBeVisible();
    await undo(page).click();
    await expect(cards(page)).toHaveCount(0);
    await page.getByRole('button', { name: 'Redo' }).click();
    await expect(cards(page)).toHaveCount(2);
  });

  await test.step('a drop shows where it goes; text that is dragged does not', async () => {
    const drag = (type: string, kind: string) =>
      page.evaluate(
        ({ type, kind }) => {
          const dataTransfer = new DataTransfer();
          if (kind === 'Files') dataTransfer.items.add(new File(['a'], 'a.jpg'));
          else dataTransfer.setData('text/plain', 'words');
          document.body.dispatchEvent(
            new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer, relatedTarget: null }),
          );
        },
        { type, kind },
      );
    const sign = page.getByText('Drop the photographs to add them');
    await drag('dragover', 'text');
    await expect(sign).toHaveCount(0);
    await drag('dragover', 'Files');
    await expect(sign).toBeVisible();
    await drag('dragleave', 'Files');
    await expect(sign).toHaveCount(0);
    await hand(page, 'drop', [jpeg('c.jpg', c)]);
    await expect(cards(page)).toHaveCount(3);
  });

  await test.step('the same file is told and not added, unless asked for', async () => {
    await hand(page, 'paste', [jpeg('image.png', b)]);
    await expect(page.getByText(/pasted\.jpg is the same picture as f2, byte for byte/)).toBeVisible();
    await expect(cards(page)).toHaveCount(3);
    await expectSound(page, 'a duplicate told');
    await page.getByRole('button', { name: 'Add pasted.jpg all the same' }).click();
    await expect(cards(page)).toHaveCount(4);
    await expect(page.getByText('Photo f4: the same picture as f2.')).toBeVisible();
    await page.getByRole('button', { name: 'Take photo f4 away' }).click();
    await expect(cards(page)).toHaveCount(3);
  });

  await test.step('the same picture saved anew is added and told', async () => {
    await hand(page, 'paste', [jpeg('', await plain(150, '2026:03:14 09:30:09', 70))]);
    await expect(page.getByText('Photo f4: the same picture as f3, saved anew.')).toBeVisible();
  });

  await test.step('a paste into a field is that field’s', async () => {
    await hand(page, 'paste', [jpeg('d.jpg', await plain(60, '2026:03:14 10:00:00'))], '.fields input');
    await expect(cards(page)).toHaveCount(4);
  });

  await test.step('cancel keeps what was added so far', async () => {
    // pictures are read no further than the second one until it is cancelled
    await page.evaluate(() => {
      const read = globalThis.createImageBitmap;
      let reads = 0;
      let goOn = () => {};
      const waiting = new Promise<void>((resolve) => (goOn = resolve));
      Object.assign(globalThis, {
        goOn: () => goOn(),
        createImageBitmap: async (...asked: Parameters<typeof createImageBitmap>) => {
          if (++reads > 1) await waiting;
          return read(...asked);
        },
      });
    });
    const many = await Promise.all(
      [30, 40, 50, 60].map(async (tone) => jpeg(`m${tone}.jpg`, await plain(tone, '2026:03:14 11:00:00'))),
    );
    await hand(page, 'drop', many);
    await expect(page.getByText('Adding m40.jpg, 2 of 4')).toBeVisible();
    await expect(cards(page)).toHaveCount(5);
    await page.getByRole('button', { name: 'Cancel' }).click();
    await page.evaluate(() => (globalThis as unknown as { goOn: () => void }).goOn());
    await expect(page.getByText(/^Adding/)).toHaveCount(0);
    await expect(page.getByRole('button', { name: 'Find the line in all photos' })).toBeVisible();
    await expect(cards(page)).toHaveCount(5);
    await undo(page).click();
    await expect(cards(page)).toHaveCount(4);
  });
});

test('the list of what to mend leads to its place; the photo says how good it is; on a phone too', async ({
  page,
}) => {
  test.setTimeout(180_000);
  const made = makePhotoSurvey();
  const photograph = await drawPhotograph(made);
  const bare = {
    ...made.photos[0]!,
    id: 'f2',
    file: 'photos/f2.jpg',
    marks: [],
    tapes: [],
    lines: made.photos[0]!.lines,
  };
  const survey = {
    ...made,
    photos: [...made.photos, { ...bare, lines: [{ ...bare.lines[0]!, points: [] }] }],
  };
  await page.goto('/');
  await page
    .getByLabel('Open a survey file')
    .setInputFiles([
      { name: 'survey.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(survey)) },
      jpeg('f1.jpg', photograph),
      jpeg('f2.jpg', await plain(90, '2026:03:14 09:30:00')),
    ]);
  const list = page.getByRole('region', { name: 'Mend first' });
  await expect(list.getByRole('listitem').first()).toHaveText(/Photo f2 takes no part yet: set marks/);
  await expectSound(page, 'photos');
  await page.setViewportSize({ width: 390, height: 844 });
  await expectSound(page, 'photos on a phone');
  // the button to add photos is within reach of the thumb
  const box = (await page.locator('label', { hasText: 'Add photos' }).boundingBox())!;
  expect(box.y).toBeGreaterThan(844 / 2);
  expect(box.height).toBeGreaterThanOrEqual(44);
  await list.getByRole('link', { name: /^Mend photo f2: .*set marks/ }).click();
  await expect(page).toHaveURL(/#photos\/f2\/marks$/);
  await expect(page.getByRole('tab', { name: 'Marks' })).toHaveAttribute('aria-selected', 'true');

  await page.goto('/#photos/f1');
  const quality = page.getByRole('region', { name: 'How good this photo is' });
  await expect(quality).toContainText(/4 used/);
  await expect(quality).toContainText(/Seen on \d+ % of the wall, 8 points of \d+ doubted/);
  await expectSound(page, 'a photo on a phone');
});
