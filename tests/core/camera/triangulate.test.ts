import { describe, expect, test } from 'vitest';
import { wallFromImageOnSheet, type Camera } from '../../../src/core/camera/camera.ts';
import { packCamera, unpackCamera } from '../../../src/core/camera/projection.ts';
import { alongSheet, differentiateOffset, knownSheet } from '../../../src/core/camera/sheet.ts';
import { triangulateLine } from '../../../src/core/camera/triangulate.ts';
import { aimCamera, makeRandomView, startChance, takeLine, UNEVEN } from './madePhoto.ts';

const camera = aimCamera({ along: 900, up: 1900, out: 2600 }, { along: 1800, up: 1200 });

describe('an uneven wall is recovered exactly', () => {
  test.each([
    ['level', 900],
    ['plumb', 2100],
  ] as const)('%s line at %i', (axis, at) => {
    const line = takeLine(camera, axis, at, { relief: UNEVEN });
    const found = triangulateLine(camera, line);
    expect(found.s.length).toBeGreaterThan(50);
    expect(found.s.length).toBe(line.points.length);
    found.s.forEach((s, i) => {
      const [along, up] = axis === 'level' ? [s, at] : [at, s];
      expect(found.out[i]).toBeCloseTo(UNEVEN(along, up), 7);
      expect(found.u[i]).toBe(line.points[i]!.u);
      expect(found.sigmaPx[i]).toBe(0.1);
    });
  });
});

test('points switched off and points off the sheet are left out; the rest know where they came from', () => {
  const line = takeLine(camera, 'level', 900);
  const points = line.points.map((point, i) =>
    i === 3
      ? { ...point, state: 'off' as const }
      : i === 5
        ? { ...point, v: 5 }
        : i === 8
          ? { ...point, u: NaN }
          : point,
  );
  const found = triangulateLine(camera, { ...line, points });
  expect(found.s.length).toBe(points.length - 3);
  expect(Array.from(found.index.subarray(0, 8))).toEqual([0, 1, 2, 4, 6, 7, 9, 10]);
  found.out.forEach((out) => expect(out).toBeCloseTo(0, 7));
  expect(triangulateLine(camera, { ...line, points: [] }).s).toHaveLength(0);
});

test('a line whose height was never typed is a bug here', () => {
  const line = { ...takeLine(camera, 'level', 900), sheet: { axis: 'level' as const, at: null } };
  expect(() => triangulateLine(camera, line)).toThrow(/expected a sheet with a place/);
});

test('outPerPx is what one px across the line moves the offset by', () => {
  const line = takeLine(camera, 'level', 900);
  const { u, v, outPerPx, out } = triangulateLine(camera, line);
  for (const i of [10, 60, u.length - 10]) {
    const [du, dv] = [u[i + 1]! - u[i - 1]!, v[i + 1]! - v[i - 1]!];
    const length = Math.hypot(du, dv);
    const across = { u: u[i]! - (0.5 * dv) / length, v: v[i]! + (0.5 * du) / length };
    const moved = wallFromImageOnSheet(camera, across, { axis: 'level', at: 900 }).out - out[i]!;
    expect(Math.abs(moved) * 2).toBeCloseTo(outPerPx[i]!, 1);
  }
  // square on it would be mm per px / (aside / off): the rule of expectPhoto, within what the slanted view changes
  expect(outPerPx[60]! / ((2600 / 2900) * (2600 / 1000))).toBeGreaterThan(0.9);
  expect(outPerPx[60]! / ((2600 / 2900) * (2600 / 1000))).toBeLessThan(1.3);
});

test('derivatives by the camera agree with central differences at a fixed image point, on 25 random views', () => {
  const chance = startChance(31);
  const steps = [0.1, 0.1, 0.1, 1e-5, 1e-5, 1e-5, 1e-5, 1e-5, 1e-5];
  let compared = 0;
  for (let trial = 0; trial < 25; trial++) {
    const truth = { ...makeRandomView(chance, 2).camera, k2: 0.01 * Math.cos(trial) };
    const axis = trial % 2 === 0 ? 'level' : 'plumb';
    const at =
      axis === 'level'
        ? truth.position.up - truth.position.out / 3
        : truth.position.along + truth.position.out / 3;
    const line = takeLine(truth, axis, at, { relief: UNEVEN, stepMm: 400 });
    const found = triangulateLine(truth, line);
    found.s.forEach((_, i) => {
      const place = wallFromImageOnSheet(truth, line.points[i]!, knownSheet(line));
      const by = differentiateOffset(truth, knownSheet(line), place)!;
      steps.forEach((step, k) => {
        const shift = (sign: number): Camera => {
          const parameters = packCamera(truth);
          parameters[k]! += sign * step;
          return unpackCamera(parameters, truth);
        };
        const [low, high] = [-1, 1].map((sign) =>
          wallFromImageOnSheet(shift(sign), line.points[i]!, knownSheet(line)),
        );
        const scale = 1e-5 * Math.max(1, Math.abs(by.outByCamera[k]!), Math.abs(by.sByCamera[k]!));
        expect(Math.abs((high!.out - low!.out) / (2 * step) - by.outByCamera[k]!)).toBeLessThan(scale);
        const ds = alongSheet({ axis }, high!) - alongSheet({ axis }, low!);
        expect(Math.abs(ds / (2 * step) - by.sByCamera[k]!)).toBeLessThan(scale);
        compared += 1;
      });
    });
  }
  expect(compared).toBeGreaterThan(500);
});
