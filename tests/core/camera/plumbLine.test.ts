import { describe, expect, test } from 'vitest';
import { checkLens } from '../../../src/core/camera/plumbLine.ts';
import { bendEdge, type EdgeCurve } from '../../../src/core/camera/straightEdge.ts';
import { Refused } from '../../../src/core/refusal.ts';
import { startChance, type Chance } from './madePhoto.ts';

const picture = { widthPx: 4000, heightPx: 3000, focalPx: 2900 };
type End = readonly [number, number];
/** Ends of straight things in the undistorted picture (px from its middle): near the four sides. */
const AROUND: readonly (readonly [End, End])[] = [
  [
    [-1800, -1200],
    [1750, -1260],
  ],
  [
    [-1850, 1250],
    [1800, 1150],
  ],
  [
    [-1700, -1300],
    [-1750, 1250],
  ],
  [
    [1650, -1200],
    [1720, 1300],
  ],
];
interface Bent {
  readonly k1?: number;
  readonly noisePx?: number;
  readonly chance?: Chance;
  /** How far the thing itself is bent in its middle (px). */
  readonly bowPx?: number;
}

/** A straight thing as a lens shows it, one point per px, noise across it shared over three px. */
function takeEdge(
  [from, to]: readonly [End, End],
  { k1 = -0.006, noisePx = 0, chance, bowPx = 0 }: Bent = {},
): EdgeCurve {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [nx, ny] = [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
  const count = Math.floor(length);
  const fresh = Array.from({ length: count + 2 }, () => chance?.normal(noisePx) ?? 0);
  const points = Array.from({ length: count }, (_, i) => {
    const t = i / (count - 1);
    const off = (fresh[i]! + fresh[i + 1]! + fresh[i + 2]!) / Math.sqrt(3) + 4 * bowPx * t * (1 - t);
    const x = (from[0] + t * (to[0] - from[0])) / picture.focalPx;
    const y = (from[1] + t * (to[1] - from[1])) / picture.focalPx;
    const factor = picture.focalPx * (1 + k1 * (x * x + y * y));
    return { u: 1999.5 + factor * x + off * nx, v: 1499.5 + factor * y + off * ny };
  });
  return {
    ...picture,
    u: Float64Array.from(points, ({ u }) => u),
    v: Float64Array.from(points, ({ v }) => v),
    sigmaPx: new Float64Array(count).fill(noisePx || 0.05),
  };
}
const takeAll = (bent: Bent) => AROUND.map((ends) => takeEdge(ends, bent));
const refusalOf = (run: () => unknown) => {
  try {
    run();
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  return null;
};

describe('a lens from straight things', () => {
  test.each([-0.05, -0.006, 0, 0.02])('k1 %d is found exactly without noise', (k1) => {
    const found = checkLens(takeAll({ k1 }), 0);
    expect(Math.abs(found.k1 - k1)).toBeLessThan(2e-6);
    expect(found.agrees).toBe(true);
    found.edges.forEach(({ rmsPx }) => expect(rmsPx).toBeLessThan(0.005));
  });
  test('sigma is true over 60 photographs, with and without edges that are bent a little themselves', () => {
    for (const bow of [0, 0.4]) {
      const chance = startChance(17);
      const errors = Array.from({ length: 60 }, () => {
        const k1 = chance.normal(0.01);
        const curves = AROUND.map((ends) =>
          takeEdge(ends, { k1, noisePx: 0.15, chance, bowPx: chance.normal(bow) }),
        );
        const found = checkLens(curves, 0);
        return (found.k1 - k1) / found.sigma;
      });
      const spread = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
      expect(spread).toBeGreaterThan(0.8);
      expect(spread).toBeLessThan(1.25);
    }
  });
  test('pictures of different sizes and either way up are one lens; the order of edges and points is nothing to it', () => {
    const curves = takeAll({});
    const half = curves.map((curve) => ({
      ...curve,
      u: curve.u.map((u) => (u - 1999.5) / 2 + 749.5),
      v: curve.v.map((v) => (v - 1499.5) / 2 + 999.5),
      widthPx: 1500,
      heightPx: 2000,
      focalPx: 1450,
    }));
    const once = checkLens([...curves.slice(0, 2), ...half.slice(2)], 0);
    expect(Math.abs(once.k1 + 0.006)).toBeLessThan(2e-6);
    const turned = curves.map((curve) => ({ ...curve, u: curve.u.toReversed(), v: curve.v.toReversed() }));
    expect(checkLens(turned.toReversed(), 0).k1).toBeCloseTo(checkLens(curves, 0).k1, 7);
  });
  test('a focal length known to 4 % leaves 8 % of k1 open, and one that is 4 % wrong makes k1 wrong by 8 %', () => {
    const curves = takeAll({ k1: -0.03 });
    const [sure, unsure] = [0, 0.04].map((focalSigma) => checkLens(curves, focalSigma));
    expect(unsure!.sigma).toBeCloseTo(Math.hypot(sure!.sigma, 0.08 * 0.03), 7);
    const longer = curves.map((curve) => ({ ...curve, focalPx: 1.04 * curve.focalPx }));
    expect(checkLens(longer, 0.04).k1 / sure!.k1).toBeCloseTo(1.04 ** 2, 4);
  });
  test('what the edges say of their own bow comes near the truth', () => {
    const chance = startChance(3);
    const bows = Array.from({ length: 30 }, () => {
      const curves = [...AROUND, ...AROUND].map((ends) =>
        takeEdge(ends, { noisePx: 0.1, chance, bowPx: chance.normal(0.5) }),
      );
      return checkLens(curves, 0).bowPx;
    });
    const usual = Math.sqrt(bows.reduce((sum, bow) => sum + bow * bow, 0) / bows.length);
    expect(usual).toBeGreaterThan(0.4);
    expect(usual).toBeLessThan(0.62);
  });
});

describe('refusals', () => {
  const through: readonly [End, End] = [
    [-1900, -1],
    [1900, 2],
  ];
  test('edges_few: none, and one', () => {
    expect(refusalOf(() => checkLens([], 0.04))).toEqual({ code: 'edges_few', count: 0 });
    expect(refusalOf(() => checkLens([takeEdge(AROUND[0]!)], 0.04))).toEqual({ code: 'edges_few', count: 1 });
  });
  test('edge_short: seven points', () => {
    const long = takeEdge(AROUND[0]!);
    const short = {
      ...long,
      u: long.u.slice(0, 7),
      v: long.v.slice(0, 7),
      sigmaPx: long.sigmaPx.slice(0, 7),
    };
    expect(refusalOf(() => checkLens([long, short], 0.04))).toEqual({ code: 'edge_short', edge: 1 });
  });
  test('edges_central: all through the middle', () => {
    const chance = startChance(1);
    const upright: readonly [End, End] = [
      [3, -1400],
      [-2, 1400],
    ];
    const curves = [through, upright].map((ends) => takeEdge(ends, { noisePx: 0.1, chance }));
    expect(refusalOf(() => checkLens(curves, 0.04))).toEqual({ code: 'edges_central' });
  });
  test('one through the middle beside good ones does no harm', () => {
    const curves = [...takeAll({}), takeEdge(through)];
    expect(Math.abs(checkLens(curves, 0).k1 + 0.006)).toBeLessThan(2e-6);
  });
  test('edge_not_straight: the one that is bent by 30 px', () => {
    const chance = startChance(2);
    const curves = AROUND.map((ends, i) => takeEdge(ends, { noisePx: 0.1, chance, bowPx: i === 2 ? 30 : 0 }));
    expect(refusalOf(() => checkLens(curves, 0.04))).toEqual({ code: 'edge_not_straight', edge: 2 });
  });
  test('edges_disagree: two of them, bent by 20 px and not', () => {
    const curves = AROUND.slice(0, 2).map((ends, i) => takeEdge(ends, { bowPx: 20 * i }));
    expect(refusalOf(() => checkLens(curves, 0.04))).toMatchObject({ code: 'edges_disagree' });
  });
});

test('the derivative by k1 is that of finite differences', () => {
  const curve = takeEdge(AROUND[0]!, { k1: -0.02, noisePx: 0.1, chance: startChance(8) });
  const at = bendEdge(curve, -0.012)!;
  const [before, after] = [-0.0121, -0.0119].map((k1) => bendEdge(curve, k1)!.missSquare);
  // the sigmas of the undistorted points, which change a little with k1, are held in it
  const ratio = (after! - before!) / 0.0002 / (2 * at.product);
  expect(Math.abs(ratio - 1)).toBeLessThan(0.01);
});
