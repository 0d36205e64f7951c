// `npm run bench`: speeds as ratios within one run, for the machine is never quiet. Prints, asserts nothing.
import { readFileSync } from 'node:fs';
import { solveSurvey } from '../../src/core/solve/solve.ts';
import { parseSurvey } from '../../src/file/survey.ts';
import { findLines } from '../../src/vision/findLines.ts';
import { lookAtPhoto } from '../../src/vision/look.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { decodePicture } from '../pictureNode.ts';
import { makeSurvey } from '../truth/survey.ts';

const sample = new URL('../../samples/dairy-north-wall/', import.meta.url);
const survey = parseSurvey(readFileSync(new URL('survey.json', sample), 'utf8'));
const { cv } = await loadOpenCvInNode();

async function timeMs(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}
const median = (values: number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!;

const times = { decode: [] as number[], look: [] as number[], propose: [] as number[] };
for (const photo of [survey.photos[0]!, ...survey.photos]) {
  const bytes = new Uint8Array(readFileSync(new URL(photo.file, sample)));
  times.decode.push(await timeMs(() => decodePicture(bytes, photo.file)));
  const picture = await decodePicture(bytes, photo.file);
  times.look.push(await timeMs(() => lookAtPhoto(cv, picture, survey, photo.id, { focal35Mm: 26 })));
  times.propose.push(await timeMs(() => findLines(cv, picture)));
}
// the first photo only warms up
const [decode, look, propose] = [times.decode, times.look, times.propose].map((all) => median(all.slice(1)));
console.log(
  `12 MP: decode ${decode!.toFixed(0)} ms; one wanted line ${(look! / decode!).toFixed(2)} of it, `,
);
console.log(
  `all lines proposed ${(propose! / decode!).toFixed(2)}; wasm heap ${(cv.HEAPU8.length / 2 ** 20).toFixed(0)} MiB`,
);

let before = NaN;
for (const width of [3600, 7200, 14400]) {
  const levels = [250, 750, 1250, 1750, 2200];
  const plumbs = Array.from({ length: Math.round(width / 1200) }, (_, k) => 600 + 1200 * k);
  const made = makeSurvey(1, 'plaster', { width, levels, plumbs });
  const ms = await timeMs(() => solveSurvey(made.survey));
  const growth = Number.isNaN(before) ? '' : `, ${(ms / before).toFixed(2)} of the length before`;
  console.log(`solve, wall ${width} mm: ${ms.toFixed(0)} ms${growth}`);
  before = ms;
}
