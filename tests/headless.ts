// The headless command (DEVELOPERS.md, "The headless command"): the page's core and OpenCV in Node.
//   npm run --silent headless -- SURVEY --out DIR [--again]
//   npm run --silent headless -- --find PHOTO --out DIR
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { planLining } from '../src/core/lining/planLining.ts';
import { adviseNext } from '../src/core/next/adviseNext.ts';
import { refuse, Refused, type Refusal, type Warning } from '../src/core/refusal.ts';
import { solveAndKeep } from '../src/core/solve/solve.ts';
import type { Photo, Survey } from '../src/core/survey.ts';
import { drawPlan } from '../src/draw/plan.ts';
import { toSvg } from '../src/draw/tree.ts';
import { readPictureFacts, usableFocal35 } from '../src/file/exif.ts';
import { writeLines, writeResult } from '../src/file/resultJson.ts';
import { writeScrewsCsv } from '../src/file/screwsCsv.ts';
import { parseSurvey, writeSurvey } from '../src/file/survey.ts';
import { sayRefusal } from '../src/ui/words.ts';
import { findLines } from '../src/vision/findLines.ts';
import { lookAtPhoto } from '../src/vision/look.ts';
import { loadOpenCvInNode } from './opencvNode.ts';
import { decodePicture } from './pictureNode.ts';
import { openSurvey, type SurveyOnDisk } from './surveyFolder.ts';

interface Timing {
  decode: number;
  find: number;
  solve: number;
  plan: number;
}

const usage = 'Say: headless SURVEY --out DIR [--again], or: headless --find PHOTO --out DIR';

/** Runs `work`, adds its time to one of the four counters and returns what it returned. */
async function timed<T>(times: Timing, key: keyof Timing, work: () => T | Promise<T>): Promise<T> {
  const start = performance.now();
  const result = await work();
  times[key] += performance.now() - start;
  return result;
}

const needsLook = (photo: Photo, again: boolean) =>
  again ||
  photo.lines.some((line) => !line.leftOut && line.points.length === 0) ||
  photo.widthPx === undefined;
/** Tapes not read yet are worth a look where the picture is there, but can be done without. */
const wantsLook = (photo: Photo) => photo.tapes.some((tape) => !tape.read);

/**
 * Looks at every photograph that needs it, one picture in memory at a time; what keeps one from being looked at is told, and the others are
 * looked at all the same.
 */
async function lookAtAll(opened: SurveyOnDisk, again: boolean, times: Timing) {
  let survey: Survey = opened.survey;
  const warnings: Warning[] = [];
  const refusals: Refusal[] = [];
  for (const photo of survey.photos) {
    if (photo.leftOut || !(needsLook(photo, again) || wantsLook(photo))) continue;
    try {
      const bytes = opened.readPhoto(photo.id, photo.file);
      const focal35Mm = usableFocal35(readPictureFacts(bytes));
      const picture = await timed(times, 'decode', () => decodePicture(bytes, photo.file));
      const off = opened.readLaserOff(photo.laserOff);
      const laserOff =
        off && (await timed(times, 'decode', () => decodePicture(off, photo.laserOff!).catch(() => null)));
      // started only where there is a picture to look at
      const { cv } = await loadOpenCvInNode();
      const looked = await timed(times, 'find', () =>
        lookAtPhoto(cv, picture, survey, photo.id, { focal35Mm, again, laserOff }),
      );
      warnings.push(...looked.warnings);
      survey = { ...survey, photos: survey.photos.map((p) => (p.id === photo.id ? looked.photo : p)) };
    } catch (thrown) {
      if (!(thrown instanceof Refused)) throw thrown;
      if (!needsLook(photo, again)) continue;
      refusals.push(thrown.refusal);
      const code = thrown.refusal.code === 'photo_missing' ? 'photo_missing' : 'photo_unreadable';
      warnings.push({ code, subject: photo.id });
    }
  }
  return { survey, warnings, refusals };
}

/** The solution of a survey, with what it leaves. @throws what kept a photograph from being looked at, where nothing else was measured */
function solveLooked(survey: Survey, refusals: readonly Refusal[]) {
  try {
    return solveAndKeep(survey);
  } catch (thrown) {
    const [first] = refusals;
    if (first && thrown instanceof Refused && thrown.refusal.code === 'nothing_measured') refuse(first);
    throw thrown;
  }
}

async function runSurvey(path: string, again: boolean): Promise<Map<string, string>> {
  const times: Timing = { decode: 0, find: 0, solve: 0, plan: 0 };
  const { survey: looked, warnings, refusals } = await lookAtAll(openSurvey(path), again, times);
  // solved as it will be read back, so that the written survey gives the same result
  const survey = parseSurvey(writeSurvey(looked));
  const { solution, kept } = await timed(times, 'solve', () => solveLooked(survey, refusals));
  // loaded only where something is planned
  const { solver } = await import('./solver.ts');
  const plan = await timed(times, 'plan', () => planLining(survey, solution.surface, solver));
  const next = await timed(times, 'plan', () => adviseNext(kept, solution.surface, plan.bedPlane));
  const known = new Set(solution.warnings.map((w) => `${w.code} ${w.subject}`));
  const all = [...warnings.filter((w) => !known.has(`${w.code} ${w.subject}`)), ...solution.warnings];
  return new Map([
    ['result.json', writeResult(survey, { ...solution, warnings: all }, plan, next, times)],
    ['plan.svg', toSvg(drawPlan({ survey, surface: solution.surface, plan }))],
    ['screws.csv', writeScrewsCsv(plan)],
    ['survey.json', writeSurvey(survey)],
  ]);
}

async function runFind(path: string): Promise<Map<string, string>> {
  if (!existsSync(path)) refuse({ code: 'file_not_found', file: path });
  const picture = await decodePicture(new Uint8Array(readFileSync(path)), basename(path));
  const lines = findLines(picture);
  return new Map([['lines.json', writeLines(picture.widthPx, picture.heightPx, lines)]]);
}

async function main(): Promise<number> {
  let files: Map<string, string>;
  let out: string;
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { out: { type: 'string' }, find: { type: 'string' }, again: { type: 'boolean' } },
    });
    const [path] = positionals;
    const unclear = values.find === undefined ? positionals.length !== 1 : positionals.length !== 0;
    if (values.out === undefined || unclear) throw new TypeError(usage);
    out = values.out;
    files =
      values.find === undefined ? await runSurvey(path!, values.again ?? false) : await runFind(values.find);
  } catch (error) {
    if (error instanceof Refused) console.error(sayRefusal(error.refusal));
    else if (error instanceof TypeError && 'code' in error) console.error(`${error.message} ${usage}`);
    else if (error instanceof TypeError && error.message === usage) console.error(usage);
    else throw error;
    return 2;
  }
  mkdirSync(out, { recursive: true });
  for (const [name, text] of files) writeFileSync(join(out, name), text);
  return 0;
}

process.exitCode = await main();
