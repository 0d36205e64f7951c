import { detail, halve, leastChannel, type Grey } from './grey.ts';
import type { LaserOff } from './laserOff.ts';
import { multiplyMaps, settleOnWall } from './laserOffWall.ts';
import { withMats } from './opencv/mats.ts';
import type { OpenCv } from './opencv/types.ts';
import type { Picture } from './picture.ts';
import { reducePicture, wholeRegion, type ReducedPicture } from './reduced.ts';

/** Long side (px) of the reduced pictures that are laid on each other; the first shift and turn are found at a half and a quarter of it. */
const FINE_PX = 500;
/** The hand may have moved the view by this share of the picture. */
const MOST_SHIFT = 0.12;
/** Fine structure of two pictures of one view agrees at least so well; of two views it does not (correlation). */
const LEAST_AGREEMENT = 0.7;
const SMOOTHING_PX = 5;
/** Iterations at half size and at whole size, and the gain in correlation at which they stop. */
const STEPS = { turn: 12, map: 12, least: 1e-4 };
/** What is as bright as this is a window or a lamp, and not on the wall. */
const GLARING = 235;
/** Side of the square about a place whose mean is taken off it before fine structure is compared (px). */
const DETAIL_PX = 9;

/**
 * Lays the picture with the laser off on the photograph with the laser on (Evangelidis and Psarakis 2008: enhanced
 * correlation coefficient; OpenCV's findTransformECC), and fits its exposure channel by channel. Returns null when the two
 * do not show the same view.
 */
export function fitLaserOff(cv: OpenCv, photo: Picture, off: Picture): LaserOff | null {
  const same = photo.widthPx === off.widthPx && photo.heightPx === off.heightPx;
  if (!same) return null;
  const factor = Math.max(1, Math.round(Math.max(photo.widthPx, photo.heightPx) / FINE_PX));
  const [on, without] = [reduce(photo, factor), reduce(off, factor)];
  const [fineOn, fineOff] = [leastChannel(on), leastChannel(without)];
  const map = fitMap(cv, fineOn, fineOff);
  if (!map || agreement(fineOn, fineOff, map) < LEAST_AGREEMENT) return null;
  return { picture: off, map: enlargeMap(map, factor), levels: fitLevels(on, without, map) };
}

const reduce = (picture: Picture, factor: number) =>
  reducePicture(picture, factor, wholeRegion(picture, factor));

/** The shift (px) at which the fine structure of two coarse pictures agrees best. */
function findShift(on: Grey, off: Grey): readonly [number, number] {
  const [a, b] = [detail(on, 7), detail(off, 7)];
  const [mostX, mostY] = [Math.ceil(MOST_SHIFT * on.width), Math.ceil(MOST_SHIFT * on.height)];
  let best: readonly [number, number, number] = [-Infinity, 0, 0];
  for (let dy = -mostY; dy <= mostY; dy++)
    for (let dx = -mostX; dx <= mostX; dx++) {
      let [ab, aa, bb] = [0, 1e-9, 1e-9];
      for (let y = Math.max(0, -dy); y < Math.min(on.height, on.height - dy); y++)
        for (let x = Math.max(0, -dx); x < Math.min(on.width, on.width - dx); x++) {
          const p = a[y * on.width + x]!;
          const q = b[(y + dy) * on.width + x + dx]!;
          ab += p * q;
          aa += p * p;
          bb += q * q;
        }
      const score = ab / Math.sqrt(aa * bb);
      if (score > best[0]) best = [score, dx, dy];
    }
  return [best[1], best[2]];
}

type Shift = readonly [number, number];

/** Homography from places on one grey picture to places on the other; null where the fit fails. */
function fitMap(cv: OpenCv, on: Grey, off: Grey): number[] | null {
  const [halfOn, halfOff] = [halve(on), halve(off)];
  const [dx, dy] = findShift(halve(halfOn), halve(halfOff));
  // what repeats, like a tape's graduations, may agree at a wrong shift: the phone may as well have stayed where it was
  const starts: readonly Shift[] =
    dx || dy
      ? [
          [dx, dy],
          [0, 0],
        ]
      : [[0, 0]];
  const turns = starts.flatMap(([x, y]) => {
    const start = [1, 0, 2 * x, 0, 1, 2 * y];
    const turn = climb(cv, halfOn, halfOff, start, STEPS.turn);
    return turn ? [[...turn, 0, 0, 1]] : [];
  });
  if (turns.length === 0) return null;
  const rated = turns.map((turn) => ({ turn, score: agreement(halfOn, halfOff, turn) }));
  const { turn } = rated.reduce((best, each) => (each.score > best.score ? each : best));
  const start = enlargeMap(turn, 2);
  const map = climb(cv, on, off, start, STEPS.map);
  return map && settleOnWall(on, off, map);
}

/** A map (6 numbers: turn and shift, 9: homography) made better step by step; null where the two have nothing in common. */
function climb(cv: OpenCv, on: Grey, off: Grey, start: readonly number[], steps: number): number[] | null {
  try {
    return withMats(cv, (keep) => {
      const asMat = ({ width, height, values }: Grey) =>
        keep(cv.matFromArray(height, width, cv.CV_32FC1, values));
      const wall = Uint8Array.from(off.values, (value) => (value < GLARING ? 255 : 0));
      const mask = keep(cv.matFromArray(off.height, off.width, cv.CV_8UC1, wall));
      const map = keep(cv.matFromArray(start.length / 3, 3, cv.CV_32FC1, start));
      const motion = start.length === 9 ? cv.MOTION_HOMOGRAPHY : cv.MOTION_EUCLIDEAN;
      const until = new cv.TermCriteria(cv.TermCriteria_COUNT + cv.TermCriteria_EPS, steps, STEPS.least);
      cv.findTransformECC(asMat(on), asMat(off), map, motion, until, mask, SMOOTHING_PX);
      const found = [...map.data32F];
      return found.every(Number.isFinite) ? found : null;
    });
  } catch {
    return null;
  }
}

/** Place on the other picture; null outside it. */
function placeAt(map: readonly number[], x: number, y: number, { width, height }: Grey) {
  const w = map[6]! * x + map[7]! * y + map[8]!;
  const [toX, toY] = [
    Math.round((map[0]! * x + map[1]! * y + map[2]!) / w),
    Math.round((map[3]! * x + map[4]! * y + map[5]!) / w),
  ];
  return toX >= 0 && toY >= 0 && toX < width && toY < height ? toY * width + toX : null;
}

/** Correlation of the fine structure of two grey pictures laid on each other. */
function agreement(on: Grey, off: Grey, map: readonly number[]): number {
  const [a, b] = [detail(on, DETAIL_PX), detail(off, DETAIL_PX)];
  let [ab, aa, bb, count] = [0, 1e-9, 1e-9, 0];
  for (let y = 0; y < on.height; y++)
    for (let x = 0; x < on.width; x++) {
      const to = placeAt(map, x, y, off);
      if (to === null) continue;
      const [p, q] = [a[y * on.width + x]!, b[to]!];
      ab += p * q;
      aa += p * p;
      bb += q * q;
      count++;
    }
  return count < 0.5 * on.width * on.height ? 0 : ab / Math.sqrt(aa * bb);
}

/** A homography between reduced pictures as one between the pictures (pixel centres are whole numbers at both sizes). */
function enlargeMap(map: readonly number[], factor: number): number[] {
  const shift = (factor - 1) / 2;
  const enlarge = [factor, 0, shift, 0, factor, shift, 0, 0, 1];
  const reduce = [1 / factor, 0, -shift / factor, 0, 1 / factor, -shift / factor, 0, 0, 1];
  return multiplyMaps(enlarge, multiplyMaps(map, reduce));
}

/** Values between which the exposure is compared: neither dark nor nearly clipped. */
const USABLE = { least: 20, most: 230 };

const decode = (value: number): number =>
  value <= 0.04045 * 255 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;
const encode = (light: number): number =>
  255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);

/** Every channel's values brought to the exposure of the other picture: median ratio of linear light (IEC 61966-2-1). */
function fitLevels(on: ReducedPicture, off: ReducedPicture, map: readonly number[]): LaserOff['levels'] {
  const size = { width: off.widthPx, height: off.heightPx, values: new Float32Array() };
  const fit = (channel: number): Float32Array => {
    const ratios: number[] = [];
    for (let y = 0; y < on.heightPx; y += 2)
      for (let x = 0; x < on.widthPx; x += 2) {
        const to = placeAt(map, x, y, size);
        if (to === null) continue;
        const [p, q] = [on.rgba[4 * (y * on.widthPx + x) + channel]!, off.rgba[4 * to + channel]!];
        if (Math.min(p, q) < USABLE.least || Math.max(p, q) > USABLE.most) continue;
        ratios.push(decode(p) / decode(q));
      }
    ratios.sort((a, b) => a - b);
    const gain = ratios[ratios.length >> 1] ?? 1;
    return Float32Array.from({ length: 256 }, (_, value) => Math.min(255, encode(gain * decode(value))));
  };
  return [fit(0), fit(1), fit(2)];
}
