import { CAMERA_PARAMETERS } from '../../../src/core/camera/projection.ts';
import { describe, expect, test } from 'vitest';
import { weighBlock } from '../../../src/core/camera/blockEvidence.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import type { Photo } from '../../../src/core/survey.ts';
import { makePacked, type PackedOptions, type PackedSurvey } from '../../truth/packed.ts';

const lens = { k1: -0.006, sigma: 0.0005 };
const exact = { readingNoiseMm: 0, markNoisePx: 0, lineNoisePx: 0, standNoiseMm: 0, focalRatio: 1 };
const certain = { covariance: new Float64Array(CAMERA_PARAMETERS ** 2) };
const context = { markOutMm: [-60, -60, -60, -60], markOutSigmaMm: 8 };

/** The photo's own placing, without its packer. */
const resectBare = (photo: Photo) => resectPhoto({ ...photo, blocks: [], lines: [] }, lens, context);
/** How far aside of the line over how far off the wall: what 1 mm of wall offset is shown as. */
const gainOf = ({ up, out }: { up: number; out: number }) => (up - 750) / out;
const gainError = ({ photo, cameras }: PackedSurvey, blocks: Photo['blocks']) =>
  gainOf(resectPhoto({ ...photo, blocks, lines: blocks ? photo.lines : [] }, lens, context).camera.position) /
    gainOf(cameras[0]!.position) -
  1;
const rms = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
const seeds = Array.from({ length: 24 }, (_, k) => k + 1);
const trials = (options: PackedOptions) => seeds.map((seed) => makePacked(seed, 'plaster', options));

describe('the thickness that a photo measures', () => {
  test.each(['level', 'plumb'] as const)('is exact on a flat wall without noise, %s line', (axis) => {
    const { photo, block, cameras } = makePacked(1, 'plaster', { ...exact, truth: () => -60, axis });
    const weighed = weighBlock({ camera: cameras[0]!, ...certain }, photo, block)!;
    expect(weighed.measuredMm).toBeCloseTo(25, 3);
    expect(Math.abs(weighed.w)).toBeLessThan(0.05);
  });
  test('does not care which end of the stretch comes first, nor which way the points run', () => {
    const { photo, block, cameras } = makePacked(2, 'plaster');
    const once = weighBlock({ camera: cameras[0]!, ...certain }, photo, block)!;
    const lines = photo.lines.map((line) => ({ ...line, points: line.points.toReversed() }));
    const turned = { ...block, from: block.to, to: block.from };
    const again = weighBlock(
      { camera: cameras[0]!, ...certain },
      { ...photo, lines, blocks: [turned] },
      turned,
    )!;
    expect(again.measuredMm).toBeCloseTo(once.measuredMm, 9);
    expect(again.sigmaMm).toBeCloseTo(once.sigmaMm, 9);
  });
  test('is had from one side where the other is in no picture', () => {
    const { photo, block, cameras } = makePacked(1, 'plaster', { ...exact, truth: () => -60 });
    const lines = photo.lines.map((line) => ({
      ...line,
      points: line.points.filter(({ u }) => u > block.from),
    }));
    const weighed = weighBlock({ camera: cameras[0]!, ...certain }, { ...photo, lines }, block)!;
    expect(weighed.measuredMm).toBeCloseTo(25, 3);
  });
  test('is null without points on the face, without wall beside, without the line, without its height', () => {
    const { photo, block, cameras } = makePacked(1, 'plaster');
    const weigh = (part: Partial<Photo>) =>
      weighBlock({ camera: cameras[0]!, ...certain }, { ...photo, ...part }, block);
    const onFace = ({ u }: { u: number }) => u > block.from && u < block.to;
    const cut = (keep: (point: { u: number }) => boolean) =>
      photo.lines.map((line) => ({ ...line, points: line.points.filter(keep) }));
    expect(weigh({})).not.toBeNull();
    expect(weigh({ lines: cut((point) => !onFace(point)) })).toBeNull();
    expect(weigh({ lines: cut(onFace) })).toBeNull();
    expect(weigh({ lines: [] })).toBeNull();
    expect(
      weigh({ lines: photo.lines.map((line) => ({ ...line, sheet: { axis: 'level' as const, at: null } })) }),
    ).toBeNull();
  });
  test.each([
    ['plaster', 10],
    ['plaster', 60],
    ['bulged', 10],
    ['brick', 10],
  ] as const)('has a true sigma: %s, stand to %i mm', (kind, standNoiseMm) => {
    const ws = seeds.map((seed) => {
      const { photo, block } = makePacked(seed, kind, { standNoiseMm, lens });
      return weighBlock(resectBare(photo), photo, block)!.w;
    });
    // 24 trials tell a sigma to 15 %
    expect(rms(ws)).toBeGreaterThan(0.65);
    expect(rms(ws)).toBeLessThan(1.4);
  });
});

describe('a packer as evidence of the resection', () => {
  test('takes most of the error that a badly measured stand leaves in the gain', () => {
    const made = trials({ standNoiseMm: 60, lens });
    const without = rms(made.map((each) => gainError(each, undefined)));
    const withBlock = rms(made.map((each) => gainError(each, [each.block])));
    expect(without).toBeGreaterThan(0.03);
    expect(withBlock).toBeLessThan(without / 3);
    expect(withBlock).toBeGreaterThan(0.002);
  });
  test('places a phone whose stand is too badly known by itself', () => {
    const { photo } = makePacked(1, 'plaster', { standNoiseMm: 200, lens });
    expect(() => resectPhoto({ ...photo, blocks: [] }, lens, context)).toThrow('stand_weak');
    expect(resectPhoto(photo, lens, context).agrees).toBe(true);
  });
  test('of a wrong thickness is not believed, and its w says so', () => {
    const { photo, block } = makePacked(1, 'plaster', { told: 20, lens });
    const alone = resectBare(photo);
    expect(weighBlock(alone, photo, block)!.w).toBeGreaterThan(3.29);
    expect(resectPhoto(photo, lens, context).camera).toEqual(alone.camera);
  });
});
