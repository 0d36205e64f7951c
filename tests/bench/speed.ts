// Speed and memory of opening a photograph and finding its line, in Chromium, on built files: ratios within one run.
// `npx tsx tests/bench/speed.ts [12] [48] [108] [row]`
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type Page } from '@playwright/test';
import { build, preview, type InlineConfig } from 'vite';
import type { Survey } from '../../src/core/survey.ts';
import { parseSurvey } from '../../src/file/survey.ts';
import { opencvPlugin } from '../../workers/opencv/vitePlugin.ts';
import { chromiumArgs, chromiumPath } from '../browser.mjs';
import { PeakMemory } from './peak.ts';
import type { Times } from './speedWorker.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const sample = fileURLToPath(new URL('../../samples/dairy-north-wall/', import.meta.url));
const SAMPLE_PX = { widthPx: 4000, heightPx: 3000 };

const PHOTO = 'f1';
/** Turns by megapixels, the first of them to warm up. */
const TURNS: Readonly<Record<number, number>> = { 12: 10, 48: 6, 108: 1 };
const MIB = 2 ** 20;
const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** The sample's survey with its marks where a picture of another size has them. */
function scaleMarks(survey: Survey, scale: number): Survey {
  const place = (px: number) => (px + 0.5) * scale - 0.5;
  const photos = survey.photos.map((photo) => ({
    ...photo,
    marks: photo.marks.map((mark) => ({ ...mark, u: place(mark.u), v: place(mark.v) })),
    masks: [],
  }));
  return { ...survey, photos };
}

function sayTimes(name: string, times: Times, fileBytes: number): void {
  // the first turn warms up
  const warm = (all: readonly number[]) => (all.length > 1 ? all.slice(1) : all);
  const decode = warm(times.decode);
  const ratio = (found: readonly number[]) => median(warm(found).map((ms, i) => ms / decode[i]!)).toFixed(2);
  console.log(
    `${name.padEnd(8)} ${times.megapixels.toFixed(1)} MP, ${(fileBytes / 1e6).toFixed(1)} MB: decode ${median(decode).toFixed(0)} ms; ` +
      `find / decode: one wanted line ${ratio(times.wanted)}, with its tapes read ${ratio(times.looked)}, all proposed ${ratio(times.proposed)}; ` +
      `wasm heap ${(times.wasmBytes / MIB).toFixed(0)} MiB, live Mats ${times.liveMats}, points ${times.points}, lines ${times.lines}`,
  );
}

async function timeSize(page: Page, peak: PeakMemory, survey: Survey, megapixels: number): Promise<void> {
  const scale = Math.sqrt(megapixels / 12);
  const size = { widthPx: SAMPLE_PX.widthPx * scale, heightPx: SAMPLE_PX.heightPx * scale };
  const photo = `photos/${PHOTO}.jpg`;
  await page.evaluate((name) => speed.fetchPicture(name), photo);
  if (megapixels !== 12)
    await page.evaluate(([name, size]) => speed.enlarge(name, size), [photo, size] as const);
  peak.reset();
  const asked = {
    photo,
    survey: scaleMarks(survey, scale),
    photoId: PHOTO,
    turns: TURNS[megapixels] ?? 1,
  };
  const { times, fileBytes } = await page.evaluate((asked) => speed.time(asked, true), asked);
  sayTimes(`${megapixels} MP`, times, fileBytes);
  console.log(`         most memory the page's process held: ${peak.read().toFixed(0)} MiB`);
}

/** Thirty photographs one after the other in one worker: nothing may be left of them. */
async function timeRow(page: Page, survey: Survey): Promise<void> {
  const run = async (ids: readonly string[]) => {
    let last: Times | undefined;
    for (const photoId of ids) {
      const photo = `photos/${photoId}.jpg`;
      await page.evaluate((name) => speed.fetchPicture(name), photo);
      last = (await page.evaluate((asked) => speed.time(asked, false), { photo, survey, photoId, turns: 1 }))
        .times;
    }
    return { ...last!, bytes: await page.evaluate(() => speed.memoryBytes()) };
  };
  await page.evaluate(() => speed.restart());
  const all = Array.from({ length: 30 }, (_, k) => survey.photos[k % survey.photos.length]!.id);
  const before = await run(all.slice(0, 10));
  const after = await run(all.slice(10));
  const say = (bytes: number) => `${(bytes / MIB).toFixed(2)} MiB`;
  console.log(
    `30 photos in a row: live Mats ${after.liveMats}; wasm heap ${say(after.wasmBytes)}, JavaScript memory ${say(after.bytes)}; ` +
      `growth over the last 20: ${say(after.wasmBytes - before.wasmBytes)}, ${say(after.bytes - before.bytes)}`,
  );
}

/** Builds the bench's page, serves it, drives Chromium through what is asked for and prints. */
export async function printSpeed(parts: readonly string[] = ['12', '48', '108', 'row']): Promise<void> {
  const outDir = mkdtempSync(join(tmpdir(), 'bench-'));
  const plan: InlineConfig = {
    configFile: false,
    root: here,
    base: './',
    publicDir: sample,
    logLevel: 'warn',
    plugins: [opencvPlugin()],
    worker: { format: 'es', plugins: () => [opencvPlugin()] },
    build: {
      outDir,
      emptyOutDir: true,
      target: 'es2022',
      rollupOptions: { input: join(here, 'speed.html') },
    },
    // measuring memory needs a page of its own process
    preview: {
      port: Number(process.env.PORT ?? 41790),
      headers: {
        'Cross-Origin-Opener-Policy': 'same-origin',
        'Cross-Origin-Embedder-Policy': 'require-corp',
      },
    },
  };
  await build(plan);
  const server = await preview(plan);
  const executablePath = chromiumPath();
  const browser = await chromium.launch({
    ...(executablePath ? { executablePath } : {}),
    args: [...chromiumArgs, '--enable-blink-features=ForceEagerMeasureMemory'],
  });
  try {
    const page = await browser.newPage();
    page.on('pageerror', (error) => console.error(String(error)));
    await page.goto(`${server.resolvedUrls!.local[0]!}speed.html`);
    const peak = await PeakMemory.of(browser);
    const survey = parseSurvey(readFileSync(join(sample, 'survey.json'), 'utf8'));
    for (const size of [12, 48, 108])
      if (parts.includes(String(size))) await timeSize(page, peak, survey, size);
    if (parts.includes('row')) await timeRow(page, survey);
  } finally {
    await browser.close();
    await server.close();
    rmSync(outDir, { recursive: true, force: true });
  }
}

if (process.argv[1]?.endsWith('speed.ts'))
  await printSpeed(process.argv.length > 2 ? process.argv.slice(2) : undefined);
