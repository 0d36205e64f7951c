import type { Picture } from '../../src/vision/picture.ts';
import { fillNormals, seedRandom } from './random.ts';
import type { Radiance } from './scene.ts';

/** How the camera makes a picture of the light it gets. */
export interface SensorOptions {
  readonly seed: number;
  /** Noise as a share of a phone's at base sensitivity; 0 = none. */
  readonly noise: number;
  /** Overshoot added at edges; 0 = none. */
  readonly sharpening: number;
}

/** Electrons of a full well and of the read noise, small phone pixels (from memory). */
const FULL_WELL = 4500;
const READ_NOISE = 3;
/** Length of the store of normals that rows of noise are cut from. */
const NORMALS = 1 << 18;

/** What the lens does to the light, in place: its veil, and the blur of lens and demosaicing (sigma, px). */
export function focusLight(light: Radiance, blurPx: number): void {
  addVeil(light);
  for (const plane of [light.red, light.green, light.blue])
    blurPlane(plane, light.widthPx, light.heightPx, blurPx);
}

/** The picture of light that went through the lens (which is used up): adds noise, clips, smooths colour as demosaicing does, applies the sRGB curve, sharpens and rounds. */
export function exposeSensor(light: Radiance, options: SensorOptions): Picture {
  const { widthPx } = light;
  const planes = [light.red, light.green, light.blue];
  if (options.noise > 0) addNoise(planes, widthPx, options);
  for (const plane of planes)
    for (let i = 0; i < plane.length; i++) plane[i] = Math.min(1, Math.max(0, plane[i]!));
  smoothColour(light);
  return finishPicture(light, options.sharpening);
}

/** Light scattered in the lens: a hundredth of everything, spread wide. */
function addVeil(light: Radiance): void {
  const { widthPx, heightPx } = light;
  const cell = Math.max(8, Math.round(widthPx / 125));
  const columns = Math.ceil(widthPx / cell) + 1;
  const rows = Math.ceil(heightPx / cell) + 1;
  // a column's own cell, and between which cells' middles it lies
  const place = (u: number) => Math.max(0, u / cell - 0.5);
  const ownColumn = Int32Array.from({ length: widthPx }, (_, u) => Math.floor(u / cell));
  const leftColumn = Int32Array.from({ length: widthPx }, (_, u) => Math.floor(place(u)));
  const share = Float64Array.from({ length: widthPx }, (_, u) => place(u) - Math.floor(place(u)));
  for (const plane of [light.red, light.green, light.blue]) {
    const coarse = new Float32Array(columns * rows);
    for (let v = 0; v < heightPx; v++) {
      const row = Math.floor(v / cell) * columns;
      for (let u = 0; u < widthPx; u++) coarse[row + ownColumn[u]!]! += Math.min(4, plane[v * widthPx + u]!);
    }
    for (let i = 0; i < coarse.length; i++) coarse[i]! /= cell * cell;
    blurPlane(coarse, columns, rows, 2.2);
    blurPlane(coarse, columns, rows, 2.2);
    for (let v = 0; v < heightPx; v++) {
      const y = Math.max(0, v / cell - 0.5);
      const j = Math.floor(y);
      const fy = y - j;
      for (let u = 0; u < widthPx; u++) {
        const fx = share[u]!;
        const at = j * columns + leftColumn[u]!;
        const high = coarse[at]! + fx * (coarse[at + 1]! - coarse[at]!);
        const low = coarse[at + columns]! + fx * (coarse[at + columns + 1]! - coarse[at + columns]!);
        plane[v * widthPx + u]! += 0.025 * (high + fy * (low - high));
      }
    }
  }
}

function gaussKernel(sigma: number): Float64Array {
  const reach = Math.ceil(2.5 * sigma);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp((-0.5 * (i - reach) ** 2) / (sigma * sigma)),
  );
  const sum = kernel.reduce((a, b) => a + b, 0);
  return kernel.map((x) => x / sum);
}

/** Gaussian blur of a plane in place; edges are repeated. */
export function blurPlane(plane: Float32Array, widthPx: number, heightPx: number, sigma: number): void {
  if (sigma <= 0) return;
  const kernel = gaussKernel(sigma);
  const reach = (kernel.length - 1) / 2;
  const line = new Float32Array(widthPx + 2 * reach);
  const taps = Array.from(kernel, (_, k) => line.subarray(k, k + widthPx));
  for (let v = 0; v < heightPx; v++) {
    const start = v * widthPx;
    for (let u = -reach; u < widthPx + reach; u++)
      line[u + reach] = plane[start + Math.min(widthPx - 1, Math.max(0, u))]!;
    sumTaps(kernel, taps, plane, start, widthPx);
  }
  // the rows still needed above the present one are kept in a ring
  const ring = Array.from({ length: reach + 1 }, () => new Float32Array(widthPx));
  const rows = Array.from({ length: heightPx }, (_, v) => plane.subarray(v * widthPx, (v + 1) * widthPx));
  for (let v = 0; v < heightPx; v++) {
    ring[v % (reach + 1)]!.set(rows[v]!);
    const sources = Array.from(kernel, (_, k) => {
      const from = Math.min(heightPx - 1, Math.max(0, v + k - reach));
      return from <= v ? ring[from % (reach + 1)]! : rows[from]!;
    });
    sumTaps(kernel, sources, plane, v * widthPx, widthPx);
  }
}

type Taps = readonly Float32Array[];

/** Writes the sums of `kernel` times the taps' numbers into `count` places from `start`. */
function sumTaps(kernel: Float64Array, taps: Taps, into: Float32Array, start: number, count: number): void {
  const [a, b, c, d, e, f, g] = kernel as unknown as [number, number, number, number, number, number, number];
  const [p, q, r, s, t, x, y] = taps;
  // written out for the usual lengths, which is more than twice as quick; the order of the sums is the same
  if (kernel.length === 5)
    for (let u = 0; u < count; u++)
      into[start + u] = a * p![u]! + b * q![u]! + c * r![u]! + d * s![u]! + e * t![u]!;
  else if (kernel.length === 7)
    for (let u = 0; u < count; u++)
      into[start + u] =
        a * p![u]! + b * q![u]! + c * r![u]! + d * s![u]! + e * t![u]! + f * x![u]! + g * y![u]!;
  else
    for (let u = 0; u < count; u++) {
      let sum = 0;
      for (let k = 0; k < kernel.length; k++) sum += kernel[k]! * taps[k]![u]!;
      into[start + u] = sum;
    }
}

function addNoise(planes: readonly Float32Array[], widthPx: number, options: SensorOptions): void {
  const normals = fillNormals(options.seed * 17 + 3, NORMALS);
  const random = seedRandom(options.seed * 19 + 7);
  const perElectron = 1 / FULL_WELL;
  const read = READ_NOISE * perElectron;
  for (const plane of planes)
    for (let start = 0; start < plane.length; start += widthPx) {
      const offset = Math.floor(random.uniform() * NORMALS);
      for (let u = 0; u < widthPx; u++) {
        const value = plane[start + u]!;
        const sigma = Math.sqrt(Math.max(0, value) * perElectron + read * read);
        plane[start + u] = value + options.noise * sigma * normals[(offset + u) & (NORMALS - 1)]!;
      }
    }
}

/** Keeps the brightness of every pixel and blurs what is colour, as demosaicing and a phone's denoiser do. */
function smoothColour({ red, green, blue, widthPx, heightPx }: Radiance): void {
  const grey = new Float32Array(red.length);
  for (let i = 0; i < red.length; i++) {
    const y = 0.25 * red[i]! + 0.5 * green[i]! + 0.25 * blue[i]!;
    grey[i] = y;
    red[i]! -= y;
    blue[i]! -= y;
  }
  blurPlane(red, widthPx, heightPx, 1);
  blurPlane(blue, widthPx, heightPx, 1);
  for (let i = 0; i < red.length; i++) {
    const y = grey[i]!;
    // grey = (red + 2 green + blue) / 4
    green[i] = y - (red[i]! + blue[i]!) / 2;
    red[i]! += y;
    blue[i]! += y;
  }
}

/** Steps of the table of the sRGB curve. */
const CURVE_STEPS = 8192;

/** IEC 61966-2-1 transfer curve, linear 0 to 1 -> 0 to 255 (from memory). */
function makeCurve(): Float32Array {
  return Float32Array.from({ length: CURVE_STEPS + 2 }, (_, i) => {
    const x = Math.min(1, i / CURVE_STEPS);
    return 255 * (x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055);
  });
}

function finishPicture({ red, green, blue, widthPx, heightPx }: Radiance, sharpening: number): Picture {
  const curve = makeCurve();
  const encode = (plane: Float32Array) => {
    for (let i = 0; i < plane.length; i++) {
      const x = Math.min(1, Math.max(0, plane[i]!)) * CURVE_STEPS;
      const k = Math.floor(x);
      plane[i] = curve[k]! + (x - k) * (curve[k + 1]! - curve[k]!);
    }
  };
  for (const plane of [red, green, blue]) encode(plane);
  const soft = new Float32Array(sharpening > 0 ? red.length : 0);
  const luma = (i: number) => 0.299 * red[i]! + 0.587 * green[i]! + 0.114 * blue[i]!;
  for (let i = 0; i < soft.length; i++) soft[i] = luma(i);
  if (sharpening > 0) blurPlane(soft, widthPx, heightPx, 1.1);
  const rgba = new Uint8ClampedArray(4 * red.length);
  for (let i = 0; i < red.length; i++) {
    const sharper = sharpening > 0 ? sharpening * (luma(i) - soft[i]!) : 0;
    // a clamped array rounds and keeps to 0..255
    rgba[4 * i] = red[i]! + sharper;
    rgba[4 * i + 1] = green[i]! + sharper;
    rgba[4 * i + 2] = blue[i]! + sharper;
    rgba[4 * i + 3] = 255;
  }
  return { widthPx, heightPx, rgba };
}
