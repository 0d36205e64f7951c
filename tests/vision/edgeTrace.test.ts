import { describe, expect, test } from 'vitest';
import { checkLens } from '../../src/core/camera/plumbLine.ts';
import { undistortRadius } from '../../src/core/camera/lens.ts';
import { Refused } from '../../src/core/refusal.ts';
import { traceEdge } from '../../src/vision/edgeTrace.ts';
import { drawEdges, MADE, showPlace, type MadeEdge } from './edgePictures.ts';

const k1 = -0.02;
const around: readonly MadeEdge[] = [
  {
    kind: 'dark',
    ends: [
      [-700, -480],
      [690, -510],
    ],
  },
  {
    kind: 'bright',
    ends: [
      [-720, 500],
      [700, 470],
    ],
  },
  {
    kind: 'dark',
    ends: [
      [-690, -400],
      [-720, 430],
    ],
    hidden: [0.4, 0.55],
  },
  {
    kind: 'edge',
    ends: [
      [640, -450],
      [660, 440],
    ],
  },
];
const picture = drawEdges(around, k1, 5);
const trace = ({ ends }: MadeEdge, on = picture, lens = k1) => {
  const [from, to] = ends.map((end) => showPlace(end, lens));
  // tapped some px beside it
  return traceEdge(on, { u: from!.u + 4, v: from!.v - 3 }, { u: to!.u - 2, v: to!.v + 4 }, 10);
};
/** Distances (px) of traced points from the straight line that was drawn, the lens taken out. */
const missesOf = ({ ends: [a, b] }: MadeEdge, { u, v }: { u: Float64Array; v: Float64Array }) => {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return Array.from(u, (each, i) => {
    const [xd, yd] = [(each - 799.5) / MADE.focalPx, (v[i]! - 599.5) / MADE.focalPx];
    const rd = Math.hypot(xd, yd);
    const scale = (MADE.focalPx * undistortRadius(rd, k1)) / rd;
    return ((yd * scale - a[1]) * (b[0] - a[0]) - (xd * scale - a[0]) * (b[1] - a[1])) / length;
  });
};
const refusalOf = (run: () => unknown) => {
  try {
    run();
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  return null;
};

describe('following a straight thing', () => {
  test.each(around.map((made, index) => ({ made, index })))('$made.kind, number $index', ({ made }) => {
    const traced = trace(made);
    expect(traced.kind).toBe(made.kind);
    const misses = missesOf(made, traced);
    const mean = misses.reduce((sum, miss) => sum + miss, 0) / misses.length;
    const rms = Math.sqrt(misses.reduce((sum, miss) => sum + (miss - mean) ** 2, 0) / misses.length);
    // linear light puts the middle of a blurred edge a little to its bright side, all along alike
    expect(Math.abs(mean)).toBeLessThan(made.kind === 'edge' ? 0.3 : 0.02);
    expect(rms).toBeLessThan(0.06);
    expect(traced.sigmaPx[0]).toBeGreaterThan(0.5 * rms);
    expect(traced.sigmaPx[0]).toBeLessThan(3 * rms);
  });
  test('where something lies in front there are no points', () => {
    const traced = trace(around[2]!);
    expect(traced.seen).toBeGreaterThan(0.75);
    expect(traced.seen).toBeLessThan(0.9);
    const holes = traced.v.slice(1).map((v, k) => Math.abs(v - traced.v[k]!));
    expect(holes.reduce((most, hole) => Math.max(most, hole), 0)).toBeGreaterThan(100);
  });
  test('edge_short, edge_not_traced: where there is nothing but noise and a wavy wall', () => {
    const short = () => traceEdge(picture, { u: 10, v: 10 }, { u: 30, v: 30 }, 10, 3);
    expect(refusalOf(short)).toEqual({ code: 'edge_short', edge: 3 });
    const nothing = () => traceEdge(picture, { u: 300, v: 500 }, { u: 1200, v: 800 }, 10, 1);
    expect(refusalOf(nothing)).toEqual({ code: 'edge_not_traced', edge: 1 });
  });
});

test('a lens from made photographs: k1 within 0.0004, and its sigma is true', () => {
  const errors = [1, 2, 4, 6].map((seed) => {
    const lens = -0.05 + 0.014 * seed;
    const made = drawEdges(around, lens, 100 + seed, 4);
    const found = checkLens(
      around.map((each) => ({ ...trace(each, made, lens), ...MADE })),
      0,
    );
    expect(Math.abs(found.k1 - lens)).toBeLessThan(0.0004);
    return (found.k1 - lens) / found.sigma;
  });
  const spread = Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
  expect(spread).toBeGreaterThan(0.4);
  expect(spread).toBeLessThan(1.7);
});
