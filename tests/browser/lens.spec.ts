import { encodePhotograph } from '../../samples/make/jpeg.ts';
import { drawEdges, MADE, showPlace, type MadeEdge } from '../vision/edgePictures.ts';
import { drawPhotograph, makePhotoSurvey, openDesk, placeOnPage, readKeptPhoto } from './photoDesk.ts';
import { expect, expectSound, goTo, test } from './watch.ts';

const k1 = -0.02;
const edges: readonly MadeEdge[] = [
  {
    kind: 'dark',
    ends: [
      [-700, -480],
      [690, -510],
    ],
  },
  {
    kind: 'bright',
    ends: [
      [-720, 500],
      [700, 470],
    ],
  },
  {
    kind: 'edge',
    ends: [
      [640, -450],
      [660, 440],
    ],
  },
];
/** The 35 mm equivalent of the made pictures' focal length, as whole as EXIF has it; 36.2 / 36 mm of 1600 px is 1160 px. */
const focal35Mm = 26;

for (const [screen, viewport] of [
  ['wide', { width: 1440, height: 900 }],
  ['phone', { width: 390, height: 844 }],
] as const)
  test(`a lens is checked with a string, ${screen} screen`, async ({ page }) => {
    await page.setViewportSize(viewport);
    const survey = makePhotoSurvey();
    await openDesk(page, survey, await drawPhotograph(survey));
    await page.getByRole('button', { name: '‹ Photos' }).click();
    await page.getByRole('button', { name: 'Check the lens' }).click();
    await expectSound(page, 'an empty lens check');
    const buffer = Buffer.from(
      await encodePhotograph(drawEdges(edges, k1, 5), 92, {
        orientation: 1,
        focal35Mm,
        focalMm: 7,
        takenAt: '2024:05:14 09:12:40',
      }),
    );
    const file = { name: 'string.jpg', mimeType: 'image/jpeg', buffer };
    await page.getByLabel('Add photos of something straight').setInputFiles(file);
    const area = page.getByRole('application');
    await expect(area.locator('img')).toBeVisible();
    await area.evaluate((node) => node.scrollIntoView({ block: 'center' }));
    const box = (await area.boundingBox())!;
    const scale = Math.min(box.width / MADE.widthPx, box.height / MADE.heightPx);
    for (const { ends } of edges)
      for (const end of ends) {
        const { u, v } = showPlace(end, k1);
        await page.mouse.click(
          box.x + (box.width - MADE.widthPx * scale) / 2 + u * scale,
          box.y + (box.height - MADE.heightPx * scale) / 2 + v * scale,
        );
      }
    const list = page.getByRole('list', { name: 'Edges' }).getByRole('listitem');
    await expect(list).toHaveCount(3);
    await expect(list.filter({ hasText: 'alone' })).toHaveCount(3);
    await expectSound(page, 'a lens check with edges');
    await page.getByRole('button', { name: 'Keep this for site phone' }).click();
    const phone = page.getByRole('listitem').filter({ hasText: 'by a lens check' });
    const words = await phone.innerText();
    const [, found, sigma] = /k1 ([−\d.]+) ± ([\d.]+)/.exec(words)!;
    expect(Math.abs(Number(found!.replace('−', '-')) - k1)).toBeLessThan(0.0005);
    // 4 % of focal length is 8 % of k1
    expect(Number(sigma)).toBeCloseTo(0.0016, 3);
    await page.getByRole('button', { name: 'Undo' }).first().click();
    await expect(page.getByText('by a lens check')).toHaveCount(0);
  });

test('a packer is marked on the line by dragging, weighed, and taken away', async ({ page }) => {
  const survey = makePhotoSurvey();
  await openDesk(page, survey, await drawPhotograph(survey));
  await page.getByRole('tab', { name: 'Phone' }).click();
  const mark = page.getByRole('button', { name: 'Mark the packer on the picture' });
  await expect(mark).toBeDisabled();
  await page.getByLabel('Thickness of the packer').fill('12');
  await page.getByLabel('Thickness of the packer').press('Enter');
  await mark.click();
  const points = survey.photos[0]!.lines[0]!.points;
  const [from, to] = [
    await placeOnPage(page, 400, points[200]!.v),
    await placeOnPage(page, 460, points[200]!.v),
  ];
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 3 });
  await page.mouse.up();
  await expect.poll(async () => (await readKeptPhoto(page)).blocks?.length).toBe(1);
  const [block] = (await readKeptPhoto(page)).blocks!;
  expect(block).toMatchObject({ line: 'l1', thickness: 12, sigma: 0.2 });
  expect(Math.abs(block!.from - 400)).toBeLessThan(1.5);
  expect(Math.abs(block!.to - 460)).toBeLessThan(1.5);
  // there is no packer in that picture, and the photo says so
  await expect(page.getByRole('region', { name: 'Packers on the line' })).toContainText('do not agree');
  await expectSound(page, 'a packer');
  await page.getByRole('button', { name: 'Take packer 1 away' }).click();
  await expect.poll(async () => (await readKeptPhoto(page)).blocks?.length).toBe(0);
});

test('before the photo: what is expected, and what to move', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  const survey = { ...makePhotoSurvey(), photos: [] };
  await page.goto('/');
  await page.getByLabel('Open a survey file').setInputFiles({
    name: 'survey.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(survey)),
  });
  await goTo(page, 'Photos');
  await expect(page.getByText('Stand there: nothing to move.')).toBeVisible();
  await page.getByLabel('Phone above the floor').fill('900');
  await page.getByLabel('Phone above the floor').press('Enter');
  await expect(page.getByText(/^Hold the phone \d+ mm higher\.$/)).toBeVisible();
  await expect(page.getByRole('img', { name: 'Wall, light and phone from the side' })).toBeVisible();
  await expectSound(page, 'before the photo');
});
