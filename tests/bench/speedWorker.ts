// What is timed, in a worker of Chromium as the page starts it: decoding and finding, one after the other.
import type { Survey } from '../../src/core/survey.ts';
import { findLines } from '../../src/vision/findLines.ts';
import { lookAtPhoto } from '../../src/vision/look.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';
import { decodePicture } from '../../workers/decode.ts';
import { loadOpenCv } from '../../workers/opencv/loadBrowser.ts';
import { countMats } from '../vision/countedMats.ts';
import { enlargePicture } from './enlarge.ts';

/** Times of one photograph (ms), one value per turn. */
export interface Times {
  readonly decode: number[];
  readonly wanted: number[];
  /** All that the page does when it looks at a photo: the wanted line and the tapes beside it. */
  readonly looked: number[];
  readonly proposed: number[];
  readonly megapixels: number;
  readonly points: number;
  readonly lines: number;
  readonly wasmBytes: number;
  readonly liveMats: number;
}

export type Asked =
  | { kind: 'enlarge'; blob: Blob; widthPx: number; heightPx: number }
  | { kind: 'time'; blob: Blob; survey: Survey; photoId: string; turns: number };

export interface Told {
  enlarge: { blob: Blob };
  time: Times;
}

let counted: ReturnType<typeof countMats> | undefined;

async function startCounted(): Promise<{ cv: OpenCv; alive: () => number }> {
  counted ??= countMats((await loadOpenCv()).cv);
  return counted;
}

async function timeMs<T>(into: number[], work: () => T | Promise<T>): Promise<T> {
  const start = performance.now();
  const result = await work();
  into.push(performance.now() - start);
  return result;
}

async function timePhoto({ blob, survey, photoId, turns }: Asked & { kind: 'time' }): Promise<Times> {
  const started = await startCounted();
  const { cv } = started;
  const times = {
    decode: [] as number[],
    wanted: [] as number[],
    looked: [] as number[],
    proposed: [] as number[],
  };
  const bare = { ...survey, photos: survey.photos.map((photo) => ({ ...photo, tapes: [] })) };
  let [megapixels, points, lines] = [0, 0, 0];
  for (let turn = 0; turn < turns; turn++) {
    const picture = await timeMs(times.decode, () => decodePicture(blob, photoId));
    const look = (of: Survey) => lookAtPhoto(cv, picture, of, photoId, { focal35Mm: null, again: true });
    const looked = await timeMs(times.wanted, () => look(bare));
    await timeMs(times.looked, () => look(survey));
    const proposed = await timeMs(times.proposed, () => findLines(picture));
    megapixels = (picture.widthPx * picture.heightPx) / 1e6;
    points = looked.photo.lines.reduce((sum, line) => sum + line.points.length, 0);
    lines = proposed.length;
  }
  const wasmBytes = cv.HEAPU8.length;
  return { ...times, megapixels, points, lines, wasmBytes, liveMats: started.alive() };
}

onmessage = ({ data }: MessageEvent<Asked>) => {
  const answer: Promise<Told[keyof Told]> =
    data.kind === 'enlarge' ? enlargePicture(data).then((blob) => ({ blob })) : timePhoto(data);
  answer
    .then((told) => postMessage(told))
    .catch((thrown: unknown) =>
      postMessage({ failed: thrown instanceof Error ? thrown.message : String(thrown) }),
    );
};
