// Makes the sample: `npm run sample` writes samples/dairy-north-wall again, byte for byte.
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { FOCAL_35_MM, listShots } from './dairy.ts';
import { encodePhotograph } from './jpeg.ts';
import { renderPhotograph } from './photograph.ts';
import { writeExpected, writeSurvey } from './record.ts';

const folder = fileURLToPath(new URL('../dairy-north-wall/', import.meta.url));
const QUALITY = 92;
/** Actual focal length of a lens whose sensor is 1 / 3.85 of 35 mm film. */
const CROP = 3.85;

mkdirSync(`${folder}photos`, { recursive: true });
const shots = listShots();
writeFileSync(`${folder}survey.json`, `${JSON.stringify(writeSurvey(shots), null, 2)}\n`);
writeFileSync(`${folder}expected.json`, `${JSON.stringify(writeExpected(shots))}\n`);
for (const [index, shot] of shots.entries()) {
  const picture = renderPhotograph(shot.scene, shot.camera, { seed: shot.seed, exposure: shot.exposure });
  const file = await encodePhotograph(picture, QUALITY, {
    orientation: 1,
    focal35Mm: FOCAL_35_MM,
    focalMm: FOCAL_35_MM / CROP,
    takenAt: `2024:05:14 09:${String(12 + 3 * index).padStart(2, '0')}:40`,
  });
  writeFileSync(`${folder}photos/${shot.id}.jpg`, file);
  console.log(`${shot.id}.jpg ${(file.length / 1e6).toFixed(2)} MB`);
}
