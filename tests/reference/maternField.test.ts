import { describe, expect, test } from 'vitest';
import { adjust, createFieldModel } from '../../src/core/solve/adjustment.ts';
import { findVariance, invertBordered } from '../../src/core/solve/borderedInverse.ts';
import { createGrid, indexNode } from '../../src/core/solve/grid.ts';
import { maternCorrelation } from '../../src/core/solve/matern.ts';
import {
  holdUnknown,
  listTrendFactors,
  TREND_UNKNOWNS,
  type Observation,
} from '../../src/core/solve/observation.ts';
import { krige } from '../truth/denseKriging.ts';
import { seedRandom } from '../truth/random.ts';

const SD_MM = 8;
const SIGMA_MM = 0.7;
const COUNT = 40;
/** So far from the border in shares of the range the two must agree. */
const INNER_SHARE = 0.4;

/** A wall, with an opening over its full height from..to (mm) or without. */
interface ComparedWall {
  readonly width: number;
  readonly height: number;
  readonly gateway?: { readonly from: number; readonly to: number };
}

/** To the dense field what lies beyond a gateway is so far away that it is another wall (mm). */
const ELSEWHERE_MM = 1e6;

/**
 * The sparse field on a grid and exact kriging with the dense Matern covariance (nu = 1), both with the same trend of flat
 * prior, from 40 scattered readings: differences in shares of the field's sd, at nodes 100 mm apart, away from the border and near it.
 */
function compare(wall: ComparedWall, rangeMm: number, stepMm: number) {
  const { gateway } = wall;
  const isOpen = (x: number) => gateway !== undefined && x > gateway.from && x < gateway.to;
  const isBeyond = (x: number) => gateway !== undefined && x >= gateway.to;
  const setApart = ([x, y]: readonly number[]) => [isBeyond(x!) ? x! + ELSEWHERE_MM : x!, y!];
  const random = seedRandom(11);
  const toNode = (mm: number) => stepMm * Math.round(mm / stepMm);
  const points = Array.from({ length: COUNT }, () => [
    toNode(random.between(100, wall.width - 100)),
    toNode(random.between(100, wall.height - 100)),
  ]).filter(([x]) => !isOpen(x!));
  const values = points.map(
    ([x, y]) =>
      -60 +
      (3 * x! + 5 * y!) / 1000 +
      0.7 * SD_MM * Math.sin(x! / 500) * Math.cos(y! / 400) +
      SIGMA_MM * random.normal(),
  );
  const openings = gateway
    ? [{ along: gateway.from, up: 0, width: gateway.to - gateway.from, height: wall.height }]
    : [];
  const grid = createGrid({ ...wall, openings }, stepMm);
  const observations: Observation[] = [
    ...points.map(([along, up], subject) => ({
      kind: 'reading' as const,
      subject,
      along: along!,
      up: up!,
      field: 1,
      unknowns: [],
      factors: [],
      target: values[subject]!,
      sigma: SIGMA_MM,
      roughness: 0,
    })),
    ...TREND_UNKNOWNS.map((unknown) => holdUnknown(unknown, 0, 1e4)),
  ];
  const adjustment = adjust(
    createFieldModel(grid, { rangeMm, sdMm: SD_MM, roughMm: 0 }),
    observations,
    new Float64Array(observations.length).fill(1),
    TREND_UNKNOWNS.length,
  );
  const inverse = invertBordered(adjustment.factor);
  const places: [number, number][] = [];
  for (let x = 0; x <= wall.width; x += 100)
    for (let y = 0; y <= wall.height && !isOpen(x); y += 100) places.push([x, y]);
  const dense = krige(
    {
      points: points.map(setApart),
      values,
      sigmas: points.map(() => SIGMA_MM),
      covariance: (h) => SD_MM ** 2 * maternCorrelation(h, rangeMm),
      trend: ([x, y]) => listTrendFactors(x! >= ELSEWHERE_MM ? x! - ELSEWHERE_MM : x!, y!),
    },
    places.map(setApart),
  );
  const inner = { mean: 0, wider: 0, narrower: 0, count: 0 };
  const border = { mean: 0, wider: 0, narrower: 0, count: 0 };
  places.forEach(([x, y], k) => {
    const node = indexNode(grid, x / stepMm, y / stepMm);
    const trend = listTrendFactors(x, y);
    const sigma = Math.sqrt(findVariance(inverse, [node], [1], TREND_UNKNOWNS, trend));
    const wider = (sigma - Math.sqrt(dense[k]!.variance)) / SD_MM;
    const ends = [0, wall.width, ...(gateway ? [gateway.from, gateway.to] : [])];
    const away = Math.min(y, wall.height - y, ...ends.map((end) => Math.abs(x - end)));
    const part = away >= INNER_SHARE * rangeMm ? inner : border;
    part.mean = Math.max(part.mean, Math.abs(adjustment.offsetAt(x, y) - dense[k]!.estimate) / SD_MM);
    part.wider = Math.max(part.wider, wider);
    part.narrower = Math.max(part.narrower, -wider);
    part.count++;
  });
  return { inner, border };
}

// The dense path is checked against published kriging in kriging.test.ts; its Bessel function in distributions.test.ts.
describe('the sparse field against exact kriging with the same Matern covariance', () => {
  for (const [rangeMm, stepMm, wall] of [
    [400, 12.5, { width: 1600, height: 1200 }],
    [900, 25, { width: 2400, height: 1800 }],
    [2000, 50, { width: 3600, height: 2400 }],
  ] as const)
    test(`range ${rangeMm} mm, grid ${stepMm} mm: mean and sigma within 2 % of the sd, 0.4 ranges from the border`, () => {
      const { inner, border } = compare(wall, rangeMm, stepMm);
      expect(inner.count).toBeGreaterThan(80);
      expect(inner.mean).toBeLessThan(0.02);
      expect(inner.wider).toBeLessThan(0.02);
      expect(inner.narrower).toBeLessThan(0.02);
      // the wall ends where the dense field goes on: measured 3 to 10 % and 5 to 7 %
      expect(border.mean).toBeGreaterThan(0.02);
      expect(border.mean).toBeLessThan(0.11);
      expect(Math.max(border.wider, border.narrower)).toBeGreaterThan(0.02);
      expect(Math.max(border.wider, border.narrower)).toBeLessThan(0.08);
    });
  test('on both sides of a gateway over the full height: as two dense fields that share their trend alone', () => {
    const gateway = { from: 1500, to: 2100 };
    const { inner, border } = compare({ width: 3600, height: 2400, gateway }, 900, 25);
    expect(inner.count).toBeGreaterThan(200);
    expect(inner.mean).toBeLessThan(0.02);
    expect(Math.max(inner.wider, inner.narrower)).toBeLessThan(0.02);
    // beside a reveal the field is less alike along it than the dense one: measured 10 % wider, 6 % narrower
    expect(border.mean).toBeLessThan(0.11);
    expect(border.wider).toBeGreaterThan(0.02);
    expect(border.wider).toBeLessThan(0.11);
    expect(border.narrower).toBeLessThan(0.08);
  });
  test('a grid coarser than a thirtieth of the range shows beside the readings: sigma up to 4 % of the sd, to the safe side', () => {
    for (const [rangeMm, stepMm] of [
      [400, 25],
      [900, 50],
    ] as const) {
      const { inner } = compare({ width: 3600, height: 2400 }, rangeMm, stepMm);
      expect(inner.mean).toBeLessThan(0.03);
      expect(inner.wider).toBeGreaterThan(0.02);
      expect(inner.wider).toBeLessThan(0.04);
      expect(inner.narrower).toBeLessThan(0.01);
    }
  });
});
