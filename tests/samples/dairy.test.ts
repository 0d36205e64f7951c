import { readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import exifr from 'exifr';
import { expect, test } from 'vitest';
import { dairyWall, listShots } from '../../samples/make/dairy.ts';
import { placeOnLine } from '../../samples/make/lineTruth.ts';
import { listMarkPlaces, writeExpected, writeSurvey } from '../../samples/make/record.ts';
import { liesIn } from '../../samples/make/wall.ts';
import { imageFromWall } from '../../src/core/camera/camera.ts';
import type { Survey } from '../../src/core/survey.ts';

const folder = fileURLToPath(new URL('../../samples/dairy-north-wall/', import.meta.url));
const read = (name: string): unknown => JSON.parse(readFileSync(`${folder}${name}`, 'utf8'));
const survey = read('survey.json') as Survey;
const expected = read('expected.json') as ReturnType<typeof writeExpected>;
const shots = listShots();
const rounded = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

test('the files are what the program writes', () => {
  expect(survey).toEqual(rounded(writeSurvey(shots)));
  expect(expected).toEqual(rounded(writeExpected(shots)));
});

test('one photograph per line, five level and three plumb', () => {
  const lines = survey.photos.flatMap((photo) => photo.lines);
  expect(lines.map((line) => line.sheet.axis).sort()).toEqual([
    ...Array<string>(5).fill('level'),
    ...Array<string>(3).fill('plumb'),
  ]);
  expect(lines.every((line) => line.points.length === 0)).toBe(true);
  expect(survey.readings.length).toBe(6);
});

test.each(shots)('$id: marks lie within 4 px of where the true camera sees them', (shot) => {
  const photo = survey.photos.find(({ id }) => id === shot.id)!;
  const places = listMarkPlaces(shot);
  expect(photo.marks.map(({ along, up }) => [along, up])).toEqual(places.map(({ along, up }) => [along, up]));
  const errors = photo.marks.map((mark, i) => {
    const image = imageFromWall(shot.camera, places[i]!);
    return Math.hypot(mark.u - image.u, mark.v - image.v);
  });
  expect(errors.length).toBeGreaterThanOrEqual(4);
  expect(Math.max(...errors)).toBeLessThan(4);
  expect(Math.max(...errors)).toBeGreaterThan(0.2);
});

test.each(shots)('$id: all marks and the whole line are in the picture', (shot) => {
  const { camera, laser } = shot;
  const inside = ({ u, v }: { u: number; v: number }) =>
    u > 10 && v > 10 && u < camera.widthPx - 11 && v < camera.heightPx - 11;
  const photo = survey.photos.find(({ id }) => id === shot.id)!;
  expect(photo.marks.every(inside)).toBe(true);
  const length = laser.axis === 'level' ? dairyWall.plan.width : dairyWall.plan.height;
  for (const s of [0, length / 2, length])
    expect(inside(imageFromWall(camera, placeOnLine(dairyWall, laser, s)))).toBe(true);
});

test.each(shots)('$id: stands at least a third of its distance to the side, and was measured so', (shot) => {
  const { position } = shot.camera;
  const level = shot.laser.axis === 'level';
  const aside = Math.abs((level ? position.up : position.along) - shot.laser.at);
  expect(aside / (position.out - dairyWall.plan.out)).toBeGreaterThan(1 / 3);
  const { stand } = survey.photos.find(({ id }) => id === shot.id)!;
  expect(Math.abs(stand.off! - position.out)).toBeLessThan(30);
  expect(level ? stand.along : stand.up).toBeNull();
  const beside = level ? stand.up! - position.up : stand.along! - position.along;
  expect(Math.abs(beside)).toBeLessThan(30);
});

test('the expected surface is the wall, a hundredth of a millimetre, and null in the window only', () => {
  expect(expected.out.length).toBe(expected.nx * expected.ny);
  expect([expected.nx, expected.ny]).toEqual([145, 99]);
  expected.out.forEach((out, i) => {
    const along = (i % expected.nx) * expected.stepMm;
    const up = Math.floor(i / expected.nx) * expected.stepMm;
    const open = survey.wall.openings.some((rect) => liesIn(rect, along, up));
    if (open) expect(out).toBeNull();
    else expect(Math.abs(out! - dairyWall.outMm(along, up))).toBeLessThan(0.0051);
  });
  const known = expected.out.filter((out) => out !== null);
  const range = Math.max(...known) - Math.min(...known);
  expect(range).toBeGreaterThan(25);
  expect(range).toBeLessThan(40);
});

test('expected lines lie on the wall and miss it in the window', () => {
  for (const line of expected.lines) {
    const { laser } = shots.find(({ id }) => id === line.photo)!;
    line.out.forEach((out, i) => {
      const place = placeOnLine(dairyWall, laser, i * line.stepMm);
      expect(Math.abs(out - place.out)).toBeLessThan(0.0051);
      if (survey.wall.openings.some((rect) => liesIn(rect, place.along, place.up)))
        expect(line.visible[i]).toBe('0');
    });
    expect(line.visible.length).toBe(line.out.length);
    expect([...line.visible].filter((flag) => flag === '1').length).toBeGreaterThan(0.7 * line.out.length);
  }
});

test('readings are the wall with errors of their sigma', () => {
  const errors = survey.readings.map(({ distance, along, up }) => distance + dairyWall.outMm(along, up));
  const rms = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
  expect(rms).toBeGreaterThan(0.2);
  expect(rms).toBeLessThan(1.4);
});

test('photographs: 12 megapixels, notes of a phone, no place, 14 MB in all', async () => {
  let total = 0;
  for (const { id, camera } of shots) {
    const path = `${folder}photos/${id}.jpg`;
    const { size } = statSync(path);
    expect(size).toBeLessThan(4e6);
    total += size;
    const notes = (await exifr.parse(path, { translateValues: false })) as Record<string, unknown>;
    expect(notes).toMatchObject({
      Orientation: 1,
      FocalLengthIn35mmFormat: 26,
      ExifImageWidth: camera.widthPx,
      ExifImageHeight: camera.heightPx,
    });
    expect(await exifr.gps(path)).toBeUndefined();
    expect(camera.widthPx * camera.heightPx).toBe(12e6);
    // the tag is a whole number, and makers define it differently
    const tagPx = (26 / 36) * Math.max(camera.widthPx, camera.heightPx);
    expect(camera.focalPx / tagPx).toBeCloseTo(1.017, 6);
  }
  expect(total).toBeLessThan(14e6);
  expect(statSync(`${folder}expected.json`).size).toBeLessThan(600_000);
});
