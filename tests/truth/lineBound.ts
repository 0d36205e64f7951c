import type { Radiance } from '../../samples/make/scene.ts';
import { blurPlane } from '../../samples/make/sensor.ts';
import { shakeLight } from '../../samples/make/shake.ts';
import type { Picture } from '../../src/vision/picture.ts';
import type { Layers } from './lineLayers.ts';
import type { LineLight } from './lineLight.ts';
import { fitShift, learnShape, type Across } from './lineShape.ts';
import type { TestScene } from './scenes.ts';

/** What limits a line's place in every column (px; NaN where the line is not seen). */
export interface LineBound {
  /** Cramer-Rao: standard deviation that the sensor's noise allows. */
  readonly noisePx: Float64Array;
  /** The shift that texture and speckle, as they are there, give to the best estimate. */
  readonly floorPx: Float64Array;
}

/** The sensor's noise (samples/make/sensor.ts), and of rounding to whole levels. */
const FULL_WELL = 4500;
const READ = 3 / FULL_WELL;
const ROUNDING_LEVELS2 = 1 / 12;
/** Light above which a pixel is taken for clipped. */
const CLIPPED = 0.985;
/** First derivative of a sampled signal by eighth-order central differences (standard table). */
const SLOPE = [4 / 5, -1 / 5, 4 / 105, -1 / 280];

/**
 * The bound of a scene. Noise: the Cramer-Rao bound 1 / sqrt(sum (d light / d place)^2 / variance) over the pixels of a
 * column and all three colours that are not clipped, the variance being the renderer's own shot noise, read noise and
 * rounding to 8 bits (e.g. Hagen, Kupinski, Dereniak, "Gaussian profile estimation in one dimension", Applied Optics 46,
 * 2007; from memory). Floor: the error of the least-squares fit that knows the line's mean cross-section and the place to
 * start from, and fits shift, height and ground to the picture without noise, `quiet`: what texture, JPEG and, if there
 * is one, speckle do to the best of linear estimates, as Dorsch, Hausler and Herrmann (Applied Optics 33, 1994) define the
 * limit of triangulation in coherent light. Of luminance and the laser's own channel the one that does better counts.
 */
export function boundLine(
  test: TestScene,
  light: LineLight,
  quiet: Picture,
  noisePx: Float64Array,
): LineBound {
  const laser = test.laser!;
  const fwhmPx = Math.hypot(
    laser.widthMm * (test.camera.focalPx / test.camera.position.out),
    2.3548 * (test.options.blurPx ?? 0.65),
  );
  const reach = Math.ceil(1.2 * fwhmPx + 2);
  const weights = laser.colour === 'red' ? [1, 0, 0] : [0, 1, 0];
  const floors = [weights, [0.2126, 0.7152, 0.0722]].map((colours) => {
    const across = readAcross(quiet, laser.axis === 'level', colours);
    const shape = learnShape(across, light.centrePx, light.on, reach + 1);
    return light.centrePx.map((centre, x) =>
      light.on[x] === 0 ? NaN : fitShift(across, x, centre, reach, shape),
    );
  });
  const spread = (values: Float64Array) =>
    values.reduce((sum, value) => sum + (Number.isFinite(value) ? value * value : 0), 0);
  const [own, luminance] = floors as [Float64Array, Float64Array];
  return { noisePx, floorPx: spread(own) < spread(luminance) ? own : luminance };
}

/** The bound's noise, the same for a scene with and without speckle. */
export function boundNoise(test: TestScene, layers: Layers, light: LineLight): Float64Array {
  const level = test.laser!.axis === 'level';
  const { shake, blurPx = 0.65 } = test.options;
  const seen = (radiance: Radiance) => {
    const { widthPx, heightPx, ...planes } = shake ? shakeLight(radiance, shake) : radiance;
    return [planes.red, planes.green, planes.blue].map((plane) => {
      const blurred = plane.slice();
      blurPlane(blurred, widthPx, heightPx, blurPx);
      return (x: number, j: number) => {
        const row = Math.min((level ? heightPx : widthPx) - 1, Math.max(0, j));
        return blurred[level ? row * widthPx + x : x * widthPx + row]!;
      };
    });
  };
  const line = seen(layers.lines[0]!);
  const whole = seen(layers.sum(false));
  const reach = Math.ceil(3 * test.laser!.widthMm + 6);
  return light.centrePx.map((centre, x) => {
    if (light.on[x] === 0) return NaN;
    const middle = Math.round(centre);
    let information = 0;
    for (let c = 0; c < 3; c++)
      for (let j = middle - reach; j <= middle + reach; j++) {
        const value = Math.max(0, whole[c]!(x, j));
        if (value > CLIPPED) continue;
        let slope = 0;
        SLOPE.forEach((k, i) => (slope += k * (line[c]!(x, j + i + 1) - line[c]!(x, j - i - 1))));
        const rounding = ROUNDING_LEVELS2 / levelsPerLight(value) ** 2;
        information += (slope * slope) / (value / FULL_WELL + READ * READ + rounding);
      }
    return 1 / Math.sqrt(information);
  });
}

/** Slope of the sRGB curve, levels per unit of light (IEC 61966-2-1). */
function levelsPerLight(light: number): number {
  return 255 * (light <= 0.0031308 ? 12.92 : (1.055 / 2.4) * light ** (1 / 2.4 - 1));
}

const LINEAR = Float64Array.from({ length: 256 }, (_, level) => {
  const x = level / 255;
  return x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4;
});

/** Weighted sum of a picture's colours in linear light, at column x and row j of a line that runs level or plumb. */
function readAcross(
  { rgba, widthPx, heightPx }: Picture,
  level: boolean,
  colours: readonly number[],
): Across {
  return (x, j) => {
    const row = Math.min((level ? heightPx : widthPx) - 1, Math.max(0, j));
    const k = 4 * (level ? row * widthPx + x : x * widthPx + row);
    let sum = 0;
    for (let c = 0; c < 3; c++) sum += colours[c]! * LINEAR[rgba[k + c]!]!;
    return sum;
  };
}
