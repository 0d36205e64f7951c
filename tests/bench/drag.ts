// How smooth the photo's desk is: the built page in Chromium at 1440x900 on a 12 MP photograph of the sample, its line found, the page's
// thread four times slower than this machine. Prints, asserts nothing. `npx tsx tests/bench/drag.ts [case ...]`
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type Page } from '@playwright/test';
import { build, preview } from 'vite';
import type { Survey } from '../../src/core/survey.ts';
import { parseSurvey, writeSurvey } from '../../src/file/survey.ts';
import { lookAtPhoto } from '../../src/vision/look.ts';
import { chromiumArgs, chromiumPath } from '../browser.mjs';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { decodePicture } from '../pictureNode.ts';
import { playMotion, sayFrames, type Motion } from './frames.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const sample = join(root, 'samples/dairy-north-wall');
const PHOTO = 'f1';
const SLOWER = 4;
/** Input events of one case: two seconds at 60 frames a second. */
const STEPS = 120;

interface Place {
  readonly x: number;
  readonly y: number;
}

/** The sample with one photo only, its line found as the page finds it. */
async function findSample(): Promise<{ survey: Survey; photograph: Buffer }> {
  const survey = parseSurvey(readFileSync(join(sample, 'survey.json'), 'utf8'));
  const photo = survey.photos.find(({ id }) => id === PHOTO)!;
  const photograph = readFileSync(join(sample, photo.file));
  const { cv } = await loadOpenCvInNode();
  const picture = await decodePicture(photograph, photo.file);
  const alone = { ...survey, photos: [photo] };
  const looked = lookAtPhoto(cv, picture, alone, PHOTO, { focal35Mm: 26, again: true, laserOff: null });
  return { survey: { ...alone, photos: [looked.photo] }, photograph };
}

/** The desk of the photo on a page of its own, and where things are on it. */
class Desk {
  private constructor(
    private readonly page: Page,
    private readonly points: readonly { u: number; v: number }[],
    private readonly width: number,
    private readonly height: number,
  ) {}

  static async open(browser: Browser, url: string, survey: Survey, photograph: Buffer): Promise<Desk> {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    const page = await context.newPage();
    page.on('pageerror', (error) => console.error(String(error)));
    // tsx wraps every named function in this
    await page.addInitScript('globalThis.__name = (made) => made');
    await page.goto(url);
    await page.getByLabel('Open a survey file').setInputFiles([
      { name: 'survey.json', mimeType: 'application/json', buffer: Buffer.from(writeSurvey(survey)) },
      { name: `${PHOTO}.jpg`, mimeType: 'image/jpeg', buffer: photograph },
    ]);
    await page.getByRole('link', { name: `Open photo ${PHOTO}` }).click();
    await page.getByRole('img', { name: /^Profile of the wall along the line/ }).waitFor();
    const [photo] = survey.photos;
    return new Desk(page, photo!.lines[0]!.points, photo!.widthPx!, photo!.heightPx!);
  }

  close(): Promise<void> {
    return this.page.context().close();
  }

  /** Where an image point is on the page while the whole picture is shown. */
  async placeOf(u: number, v: number): Promise<Place> {
    const box = (await this.page.getByRole('application').boundingBox())!;
    const [width, height] = [box.width - 2, box.height - 2];
    const scale = Math.min(width / this.width, height / this.height);
    return {
      x: box.x + 1 + (width - this.width * scale) / 2 + (u + 0.5) * scale,
      y: box.y + 1 + (height - this.height * scale) / 2 + (v + 0.5) * scale,
    };
  }

  async middle(): Promise<Place> {
    const box = (await this.page.getByRole('application').boundingBox())!;
    return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  }

  async chartMiddle(): Promise<Place> {
    const box = (await this.page.getByRole('img', { name: /^Profile/ }).boundingBox())!;
    return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  }

  key(key: string): Promise<void> {
    return this.page.getByRole('application').press(key);
  }

  /** Takes a tool by its button; false where there is none. */
  async takeTool(name: RegExp): Promise<boolean> {
    await this.page.getByRole('tab', { name: 'Points' }).click();
    const button = this.page.getByRole('button', { name });
    if ((await button.count()) === 0) return false;
    await button.first().click();
    return true;
  }

  async pickPoint(): Promise<Place> {
    const { u, v } = this.points[this.points.length >> 1]!;
    const at = await this.placeOf(u, v);
    await this.page.mouse.click(at.x, at.y);
    await this.page.getByRole('group', { name: 'The chosen point' }).waitFor();
    return at;
  }

  /** Moves a mouse round a place with the page slowed, and prints the frames. */
  async measure(
    name: string,
    at: Place,
    reach: Place,
    how: Partial<Motion> & { wheel?: number } = {},
  ): Promise<void> {
    const steps = Array.from({ length: STEPS }, (_, i) => {
      const turn = (4 * Math.PI * i) / STEPS;
      const place = { x: at.x + reach.x * Math.sin(turn), y: at.y + reach.y * (Math.cos(turn) - 1) };
      return how.wheel ? { ...place, wheel: i < STEPS / 2 ? -how.wheel : how.wheel } : place;
    });
    // what opening the photo began has ended
    await this.page.waitForTimeout(1500);
    const cdp = await this.page.context().newCDPSession(this.page);
    await cdp.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
    const motion = { selector: '[role=application]', pressed: false, ...how, steps };
    // a thread's own time leaves out what else the machine does
    await cdp.send('Performance.enable', { timeDomain: 'threadTicks' });
    const busyMs = async () => {
      const { metrics } = await cdp.send('Performance.getMetrics');
      return metrics.find((each) => each.name === 'TaskDuration')!.value * 1000;
    };
    const before = await busyMs();
    const frames = await playMotion(this.page, motion);
    const ownMs = ((await busyMs()) - before) / STEPS;
    await cdp.detach();
    console.log(`${name.padEnd(30)} ${sayFrames(frames)}; own time, mean ${ownMs.toFixed(1)}`);
  }
}

const CASES: Readonly<Record<string, (desk: Desk) => Promise<void>>> = {
  idle: async (desk) => desk.measure('nothing done', { x: 4, y: 4 }, { x: 1, y: 1 }, { selector: 'body' }),
  point: async (desk) => {
    const at = await desk.pickPoint();
    await desk.measure('point dragged, whole picture', at, { x: 4, y: 60 }, { pressed: true });
  },
  close: async (desk) => {
    await desk.pickPoint();
    await desk.key('z');
    await desk.measure('point dragged, shown close', await desk.middle(), { x: 4, y: 60 }, { pressed: true });
  },
  push: async (desk) => {
    if (!(await desk.takeTool(/^Push/))) return console.log('no tool here that pushes a stretch');
    const { x, y } = await desk.pickPoint();
    await desk.measure('stretch pushed', { x, y }, { x: 4, y: 60 }, { pressed: true });
  },
  pan: async (desk) => {
    await desk.key('+');
    await desk.measure('panned, just over whole', await desk.middle(), { x: 90, y: 60 }, { pressed: true });
  },
  panFull: async (desk) => {
    for (let i = 0; i < 4; i++) await desk.key('+');
    await desk.measure('panned, near 1:1', await desk.middle(), { x: 90, y: 60 }, { pressed: true });
  },
  zoom: async (desk) => {
    await desk.measure('zoomed, in and out', await desk.middle(), { x: 0, y: 0 }, { wheel: 4 });
  },
  chart: async (desk) => {
    await desk.measure(
      'chart hovered',
      await desk.chartMiddle(),
      { x: 300, y: 20 },
      { selector: '[role=img][aria-label^=Profile]' },
    );
  },
  hover: async (desk) => {
    await desk.measure('picture hovered', await desk.middle(), { x: 300, y: 60 });
  },
};

/** Builds the page, serves it, and prints the frames of each case, each on a page newly opened. */
export async function printDrag(cases: readonly string[] = Object.keys(CASES)): Promise<void> {
  const outDir = mkdtempSync(join(tmpdir(), 'bench-'));
  const configFile = join(root, 'vite.config.ts');
  await build({ configFile, logLevel: 'error', build: { outDir, emptyOutDir: true } });
  const port = Number(process.env.PORT ?? 41791);
  const server = await preview({ configFile, logLevel: 'error', build: { outDir }, preview: { port } });
  const executablePath = chromiumPath();
  const browser = await chromium.launch({
    ...(executablePath ? { executablePath } : {}),
    args: chromiumArgs,
  });
  try {
    const { survey, photograph } = await findSample();
    console.log(
      `${survey.photos[0]!.lines[0]!.points.length} points; ${SLOWER} times slower; median and 95 % per frame, ms`,
    );
    for (const name of cases) {
      const desk = await Desk.open(browser, server.resolvedUrls!.local[0]!, survey, photograph);
      await CASES[name]!(desk);
      await desk.close();
    }
  } finally {
    await browser.close();
    await server.close();
    rmSync(outDir, { recursive: true, force: true });
  }
}

if (process.argv[1]?.endsWith('drag.ts'))
  await printDrag(process.argv.length > 2 ? process.argv.slice(2) : undefined);
