import { expect, test } from 'vitest';
import { findWorstSpot, sayStep, sayUnevenness, splitAccuracy } from '../../../src/ui/surface/accuracy.ts';
import { listLensBows } from '../../../src/ui/surface/lensBow.ts';
import { roughPlan } from '../../draw/walls.ts';

const { survey, solution } = roughPlan();
const { surface } = solution;

test('on the lines, between them and at the edges: each counted once, from its own nodes', () => {
  const level = solution.profiles[2]!;
  const sigma = surface.sigma.map((each, at) => {
    if (Number.isNaN(each)) return NaN;
    const up = Math.floor(at / surface.nx) * surface.stepMm;
    return Math.abs(up - level.atMm) <= 50 ? 1 : 3;
  });
  const only = { ...solution, profiles: [level], surface: { ...surface, sigma } };
  const [lines, between, edges] = splitAccuracy(survey, only);
  expect(lines!.sigmaMm).toBe(1);
  expect(between!.sigmaMm).toBe(3);
  // the line is seen to within 100 mm of the wall's ends and counts 50 mm beyond: a little of it lies at the edges
  expect(edges!.sigmaMm).toBeGreaterThan(2.8);
  expect(lines!.share + between!.share + edges!.share).toBeCloseTo(1, 12);
  expect(lines!.share).toBeCloseTo(5 / 99, 1);
});

test('without lines or without anything known', () => {
  const [lines] = splitAccuracy(survey, { ...solution, profiles: [] });
  expect(lines).toEqual({ part: 'lines', sigmaMm: NaN, share: 0 });
  expect(findWorstSpot({ ...surface, sigma: surface.sigma.map(() => NaN) })).toBeNull();
});

test('the worst spot is where sigma is greatest', () => {
  const at = 20 * surface.nx + 7;
  const sigma = surface.sigma.slice();
  sigma[at] = 9;
  expect(findWorstSpot({ ...surface, sigma })).toEqual({ along: 175, up: 500, sigmaMm: 9 });
});

test('roughness in words', () => {
  const words = [0.1, 0.5, 2].map((roughMm) =>
    sayUnevenness({ ...solution, unevenness: { rangeMm: 900, sdMm: 8, roughMm } }),
  );
  expect(new Set(words).size).toBe(3);
  expect(words[2]).toMatch(/masonry/);
});

test('a step of the face in words', () => {
  const step = { axis: 'plumb', atMm: 1843.5, fromMm: 0, toMm: 2450, outMm: -9 } as const;
  expect(sayStep(step, 'mm')).toBe("The wall's face steps back by 9 mm right of 1844 mm along.");
});

test("a lens's bow at the corner: worked by hand", () => {
  const photos = survey.photos.map((each) => ({ ...each, widthPx: 4000, heightPx: 3000 }));
  const phones = [{ ...survey.phones[0]!, lens: { k1: null, sigma: 0.01 } }];
  const [bow] = listLensBows({ ...survey, photos, phones }, solution);
  // half the diagonal 2500 px at 3000 px focal length: 3000 x -0.012 x (5/6)^3
  expect(bow!.foundPx).toBeCloseTo(-20.8333, 3);
  expect(bow!.foundSigmaPx).toBeCloseTo(1.38889, 4);
  expect(bow!.assumedPx).toBe(0);
  expect(bow!.assumedSigmaPx).toBeCloseTo(17.3611, 3);
  // with k2 = 0.006 there comes 3000 x 0.006 x (5/6)^5, and no sigma of the bow is given
  const twoTerms = { ...solution, phones: [{ ...solution.phones[0]!, k2: 0.006, k2Sigma: 0.001 }] };
  const [more] = listLensBows({ ...survey, photos, phones }, twoTerms);
  expect(more!.foundPx).toBeCloseTo(-20.8333 + 7.23379, 3);
  expect(more!.foundSigmaPx).toBeNaN();
  expect(listLensBows(survey, solution)).toEqual([]);
});
