import { existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Survey } from '../../src/core/survey.ts';
import { readPictureFacts, usableFocal35 } from '../../src/file/exif.ts';
import { writeSurvey } from '../../src/file/survey.ts';
import { lookAtPhoto } from '../../src/vision/look.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { decodePicture } from '../pictureNode.ts';
import { openSurvey } from '../surveyFolder.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
export const sampleFolder = join(root, 'samples/dairy-north-wall');
/** The sample survey with its lines found, written once for all specs. */
export const foundFile = join(root, 'test-results/found-sample.json');
/** What its points depend on. */
const sources = [sampleFolder, ...['core', 'vision', 'file'].map((room) => join(root, 'src', room))];

function isFresh(): boolean {
  if (!existsSync(foundFile)) return false;
  const { mtimeMs } = statSync(foundFile);
  return sources.every((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' }).every(
      (name) => statSync(join(folder, name)).mtimeMs < mtimeMs,
    ),
  );
}

/** Keeps the found sample for the specs; `tests/headless.test.ts` has it anyway. */
export function keepFoundSample(text: string): void {
  mkdirSync(dirname(foundFile), { recursive: true });
  writeFileSync(foundFile, text);
}

/** Playwright's global setup: finds the sample's lines in Node, unless what is kept is newer than all it depends on. */
export default async function findSample(): Promise<void> {
  if (isFresh()) return;
  const { cv } = await loadOpenCvInNode();
  const { survey, readPhoto } = openSurvey(sampleFolder);
  let found: Survey = survey;
  for (const { id, file } of survey.photos) {
    const bytes = readPhoto(id, file);
    const focal35Mm = usableFocal35(readPictureFacts(bytes));
    const { photo } = lookAtPhoto(cv, await decodePicture(bytes, file), found, id, { focal35Mm });
    found = { ...found, photos: found.photos.map((each) => (each.id === id ? photo : each)) };
  }
  keepFoundSample(writeSurvey(found));
}
