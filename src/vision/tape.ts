import { imageFromWall, type Camera } from '../core/camera/camera.ts';
import type { ImagePoint } from '../core/camera/frames.ts';
import { readStrip, type StripReading } from '../core/tape/readStrip.ts';
import { interpolate } from '../core/tape/scale.ts';
import type { Click } from '../core/tape/strip.ts';
import type { Mark, Photo, Tape, TapeReading } from '../core/survey.ts';
import type { Picture } from './picture.ts';
import { placeStrip, pointOnStrip, sampleStrip, type StripPlace } from './tapeStrip.ts';

/** Graduations are looked for so far to either side of the clicked line: a click on the tape's other edge, the wall's relief. */
const HALF_MM = 18;
const HALF_PX = 6;
/** Samples per graduation that place it as well as any more would. */
const MOST_SAMPLES = 24;
/** How far beyond its two marks a tape is looked for, in their distance. */
const BEYOND = 0.5;
/** Marks within this of the tape across it (mm) and of the line in the picture (px) are read off the same tape. */
const SAME_TAPE_MM = 0.5;
const SAME_TAPE_PX = 15;

/** How well a camera by the clicked marks tells how strokes lean, samples per row (sigma): half a degree of its turn. */
const LEAN_SIGMA = 0.01;

const ILLEGIBLE: TapeReading = { legible: false, graduations: [], rmsPx: 0, agree: 0, of: 0, misnamedMm: 0 };

/** A photo with its tapes read in the picture: those not read yet, or all of them `again`; `seeCamera` is asked only then. */
export function readTapes(
  picture: Picture,
  photo: Photo,
  again = false,
  seeCamera: () => Camera | null = () => null,
): Photo {
  const isWanted = (tape: Tape) => again || !tape.read;
  if (!photo.tapes.some(isWanted)) return photo;
  const camera = seeCamera();
  const tapes = photo.tapes.map((tape) =>
    isWanted(tape) ? { ...tape, read: readTape(picture, photo.marks, tape, camera) } : tape,
  );
  return { ...photo, tapes };
}

/**
 * What a tape shows in the picture: every graduation that can be read, as the point where its stroke meets the tape's edge as it was
 * clicked (`camera`, by the clicked marks, tells how strokes lean; without one, as a point of the stroke); or that it cannot be read; or that the names of its two marks do not fit the graduations between them.
 */
export function readTape(
  picture: Picture,
  marks: readonly Mark[],
  tape: Tape,
  camera: Camera | null = null,
): TapeReading {
  const ends = [marks[tape.from], marks[tape.to]].flatMap((mark) => mark ?? []);
  ends.sort((a, b) => a[tape.axis] - b[tape.axis]);
  const [first, last] = ends;
  if (!first || !last) return ILLEGIBLE;
  const lengthMm = last[tape.axis] - first[tape.axis];
  const lengthPx = Math.hypot(last.u - first.u, last.v - first.v);
  if (!(lengthMm > 0 && lengthPx > 0)) return ILLEGIBLE;
  const pitchPx = (lengthPx * tape.pitch) / lengthMm;
  const samplePx = Math.max(1, pitchPx / MOST_SAMPLES);
  const halfPx = (HALF_MM * lengthPx) / lengthMm + HALF_PX;
  const { strip, start } = placeStrip(picture, first, last, samplePx, halfPx, BEYOND * lengthPx);
  const clicks = listClicks(marks, tape, first, last, strip, start);
  const reading = readStrip(sampleStrip(picture, strip), clicks, tape.pitch);
  if (!reading) return ILLEGIBLE;
  const turned = marks[tape.from] !== first;
  return {
    legible: true,
    graduations: listPoints(reading, clicks, strip, (at) => seeLean(camera, tape, first, strip, at)),
    rmsPx: reading.rms * samplePx,
    agree: reading.agree,
    of: reading.of,
    misnamedMm: turned ? -reading.misnamedMm || 0 : reading.misnamedMm,
  };
}

/** A clicked mark on a strip, with the row it lies on. */
interface StripClick extends Click {
  readonly row: number;
}

/** The marks read off a tape, in their order along it, its two ends first and last. */
function listClicks(
  marks: readonly Mark[],
  { axis }: Tape,
  first: Mark,
  last: Mark,
  strip: StripPlace,
  start: number,
): StripClick[] {
  const across = axis === 'along' ? 'up' : 'along';
  const step = Math.hypot(strip.along.u, strip.along.v);
  const clickOf = (mark: Mark): StripClick => {
    const u = mark.u - first.u;
    const v = mark.v - first.v;
    return {
      at: mark[axis],
      place: start + (u * strip.along.u + v * strip.along.v) / (step * step),
      row: (strip.rows - 1) / 2 + (u * strip.across.u + v * strip.across.v) / (step * step),
    };
  };
  const between = marks
    .filter(
      (mark) =>
        Math.abs(mark[across] - first[across]) <= SAME_TAPE_MM &&
        mark[axis] > first[axis] &&
        mark[axis] < last[axis],
    )
    .map(clickOf)
    .filter(({ row }) => Math.abs(row - (strip.rows - 1) / 2) * step <= SAME_TAPE_PX)
    .sort((a, b) => a.at - b.at);
  return [clickOf(first), ...between, clickOf(last)];
}

/**
 * Graduations as points of the picture: where their strokes meet the tape's clicked edge, if a camera tells how they lean; else
 * on the strokes themselves, beside it.
 */
function listPoints(
  { graduations }: StripReading,
  clicks: readonly StripClick[],
  strip: StripPlace,
  leanAt: (at: number) => number | null,
): TapeReading['graduations'] {
  if (graduations.length === 0) return [];
  const samplePx = Math.hypot(strip.along.u, strip.along.v);
  const places = graduations.map(({ place }) => place);
  const rows = graduations.map(({ row }) => row);
  // the edge runs beside the strokes' middles, off them as at the clicks on the mean
  const offEdge =
    clicks.reduce((sum, { place, row }) => sum + interpolate(places, rows, place) - row, 0) / clicks.length;
  return graduations.map(({ at, place, row, sigma }) => {
    const lean = leanAt(at);
    const point: ImagePoint =
      lean === null
        ? pointOnStrip(strip, place, row)
        : pointOnStrip(strip, place - lean * offEdge, row - offEdge);
    const leanSigma = lean === null ? 0 : LEAN_SIGMA * offEdge;
    return { at, u: point.u, v: point.v, sigma: samplePx * Math.hypot(sigma, leanSigma) };
  });
}

/** How a stroke leans on a strip (samples along it per row), as a camera sees the wall; null without one. */
function seeLean(
  camera: Camera | null,
  { axis }: Tape,
  end: Mark,
  strip: StripPlace,
  at: number,
): number | null {
  if (!camera) return null;
  const place = axis === 'along' ? { along: at, up: end.up, out: 0 } : { along: end.along, up: at, out: 0 };
  const beside = axis === 'along' ? { ...place, up: place.up + 1 } : { ...place, along: place.along + 1 };
  const here = imageFromWall(camera, place);
  const there = imageFromWall(camera, beside);
  const u = there.u - here.u;
  const v = there.v - here.v;
  const lean = (u * strip.along.u + v * strip.along.v) / (u * strip.across.u + v * strip.across.v);
  return Number.isFinite(lean) ? lean : null;
}
