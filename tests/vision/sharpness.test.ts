import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { BLURRED_PX, JUDGED_PX, measureBlur, type GreyLevels } from '../../src/vision/sharpness.ts';
import { decodePicture } from '../pictureNode.ts';
import { seedRandom } from '../truth/random.ts';

const [widthPx, heightPx] = [640, 480];

/** Oblique steps of grey blurred by a Gaussian of `sigma` px, in closed form, with noise. */
function makeSteps(sigma: number, contrast = 80): GreyLevels {
  const random = seedRandom(4);
  const levels = new Uint8Array(widthPx * heightPx);
  for (let v = 0, k = 0; v < heightPx; v++)
    for (let u = 0; u < widthPx; u++, k++) {
      // squares of 60 px, turned a little: the product of two square waves of smooth flanks
      const flank = (at: number) => {
        const off = (((at % 60) + 60) % 60) - 30;
        // a logistic flank as steep as a Gaussian one
        const side = 1 / (1 + Math.exp((-1.6 * (15 - Math.abs(off))) / Math.max(sigma, 0.05)));
        return 2 * side - 1;
      };
      const wave = flank(u + 0.2 * v) * flank(v - 0.2 * u);
      levels[k] = Math.round(128 + (contrast / 2) * wave + 4 * (random.uniform() - 0.5));
    }
  return { widthPx, heightPx, levels };
}

/** The mean of a picture over `side` px along rows or columns. */
function shake({ levels, ...size }: GreyLevels, side: number, step: number): GreyLevels {
  const out = levels.map((_, k) => {
    let sum = 0;
    for (let n = 0; n < side; n++) sum += levels[Math.min(levels.length - 1, k + n * step)]!;
    return Math.round(sum / side);
  });
  return { ...size, levels: out };
}

test('the figure follows the sigma of made steps, less steep flanks count more', () => {
  const figures = [0.5, 1, 2, 3].map((sigma) => measureBlur(makeSteps(sigma)));
  expect(figures[0]).toBeLessThan(1);
  for (const [k, sigma] of [1, 2, 3].entries()) expect(figures[k + 1]! / sigma).toBeGreaterThan(0.8);
  for (const [k, sigma] of [1, 2, 3].entries()) expect(figures[k + 1]! / sigma).toBeLessThan(1.3);
});

test('a plain wall, noisy or not, is not called blurred', () => {
  expect(measureBlur(makeSteps(1, 0))).toBeNaN();
  expect(measureBlur({ widthPx, heightPx, levels: new Uint8Array(widthPx * heightPx).fill(120) })).toBeNaN();
});

test('a shaken picture is blurred one way only, and told', () => {
  const sharp = makeSteps(0.5);
  expect(measureBlur(sharp)).toBeLessThan(BLURRED_PX);
  expect(measureBlur(shake(sharp, 7, 1))).toBeGreaterThan(BLURRED_PX);
  expect(measureBlur(shake(sharp, 7, widthPx))).toBeGreaterThan(BLURRED_PX);
});

test("the sample's photograph is sharp, and blurred by 5 px it is told", async () => {
  const file = new URL('../../samples/dairy-north-wall/photos/f1.jpg', import.meta.url);
  const picture = await decodePicture(readFileSync(file), 'f1.jpg');
  const factor = picture.widthPx / JUDGED_PX;
  const size = { widthPx: JUDGED_PX, heightPx: Math.floor(picture.heightPx / factor) };
  const levels = Uint8Array.from({ length: size.widthPx * size.heightPx }, (_, k) => {
    const [u, v] = [Math.floor((k % JUDGED_PX) * factor), Math.floor(Math.floor(k / JUDGED_PX) * factor)];
    const at = 4 * (v * picture.widthPx + u) + 1;
    const below = at + 4 * picture.widthPx;
    const { rgba } = picture;
    return (rgba[at]! + rgba[at + 4]! + rgba[below]! + rgba[below + 4]!) >> 2;
  });
  const sharp = { ...size, levels };
  expect(measureBlur(sharp)).toBeLessThan(1.1);
  // a box of 7 px has a standard deviation of 2 px, of 5 px in the whole picture
  expect(measureBlur(shake(shake(sharp, 7, 1), 7, JUDGED_PX))).toBeGreaterThan(BLURRED_PX);
});
