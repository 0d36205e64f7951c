import { describe, expect, test } from 'vitest';
import { fillNodes, sampleNodes } from '../../src/core/lining/nodeGrid.ts';
import { look } from '../../src/draw/look.ts';
import { drawMisfit, measureMisfit } from '../../src/draw/misfit.ts';
import { drawPhonePlaces } from '../../src/draw/phonePlaces.ts';
import { listTexts, toSvg } from '../../src/draw/tree.ts';
import { drawWhiskers, limitOf } from '../../src/draw/whiskers.ts';
import { listElements } from './boxes.ts';
import { makeResidual, roughPlan } from './walls.ts';

const residual = (part: Partial<ReturnType<typeof makeResidual>>) => ({
  ...makeResidual('reading', 'r1', 1),
  ...part,
});
const { survey, solution } = roughPlan();
const { stepMm, nx, ny, out } = solution.surface;
const nodes = fillNodes({ stepMm, nx, ny, values: out });

describe('whiskers', () => {
  test('reach to where w is 3.29, of what took part and of what was left out', () => {
    const used = residual({ sigmaMm: 2, redundancy: 0.25, state: 'used' });
    expect(limitOf(used) / (2 * Math.sqrt(0.25))).toBeCloseTo(3.29, 12);
    // sigma 3, predicted to 4: spread 5, redundancy 9/25
    const leftOut = residual({ sigmaMm: 3, redundancy: 9 / 25, state: 'left_out' });
    expect(limitOf(leftOut)).toBeCloseTo(3.29 * 5, 12);
    expect(limitOf(residual({ redundancy: 0 }))).toBeNaN();
  });

  test('a dot lies inside its whisker exactly when it agrees', () => {
    const rows = [
      { name: 'a', residual: residual({ residualMm: 3.2, sigmaMm: 1, redundancy: 1, state: 'used' }) },
      { name: 'b', residual: residual({ residualMm: -3.4, sigmaMm: 1, redundancy: 1, state: 'suspect' }) },
    ];
    const drawing = drawWhiskers(rows);
    const bars = listElements(drawing, 'line').filter(
      ({ attrs }) => attrs.stroke === look.edge && attrs.y1 === attrs.y2,
    );
    const dots = listElements(drawing, 'circle');
    expect(bars.length).toBe(2);
    const isInside = dots.map(({ attrs }) => {
      const bar = bars.find((each) => each.attrs.y1 === attrs.cy)!;
      return Number(attrs.cx) > Number(bar.attrs.x1) && Number(attrs.cx) < Number(bar.attrs.x2);
    });
    expect(isInside).toEqual([true, false]);
    expect(dots.map(({ attrs }) => attrs.stroke)).toEqual([look.pencil, look.signal]);
  });

  test('one far outside points over the edge and does not squeeze the others', () => {
    const row = (residualMm: number, state: 'used' | 'left_out') => ({
      name: state,
      residual: residual({ residualMm, sigmaMm: 1, redundancy: 1, state }),
    });
    const drawing = drawWhiskers([row(1, 'used'), row(100, 'left_out')]);
    expect(listElements(drawing, 'circle').length).toBe(1);
    expect(listElements(drawing, 'path').length).toBe(1);
    expect(listTexts(drawing)).toContain('100');
    const ticks = listTexts(drawing).map(Number).filter(Number.isFinite);
    expect(ticks.filter((each) => Math.abs(each) < 6).length).toBeGreaterThan(4);
  });

  test('what nothing checks has a dot and no whisker; no rows, an empty chart', () => {
    const drawing = drawWhiskers([
      { name: 'a', residual: residual({ residualMm: 0, redundancy: 0, state: 'used' }) },
    ]);
    expect(listElements(drawing, 'line').filter(({ attrs }) => attrs.stroke === look.edge)).toEqual([]);
    expect(listElements(drawing, 'circle').length).toBe(1);
    expect(toSvg(drawWhiskers([]))).not.toMatch(/NaN|Infinity/);
  });
});

describe('the misfit of a line', () => {
  const profile = solution.profiles[1]!;
  const along = (s: number) => sampleNodes(nodes, s, profile.atMm);

  test('is nothing where the profile is the surface, and what is put on it', () => {
    const same = { ...profile, out: profile.s.map(along) };
    expect(measureMisfit(same, nodes).rmsMm).toBeLessThan(0.05);
    const raised = { ...profile, out: profile.s.map((s) => along(s) + 3) };
    expect(measureMisfit(raised, nodes).rmsMm).toBeCloseTo(3, 1);
  });

  test('of a plumb line is read up the wall', () => {
    const plumb = solution.profiles.find(({ axis }) => axis === 'plumb')!;
    const same = { ...plumb, out: plumb.s.map((s) => sampleNodes(nodes, plumb.atMm, s)) };
    expect(measureMisfit(same, nodes).rmsMm).toBeLessThan(0.05);
  });

  test('keeps gaps open and draws what reaches beyond the strip at its edge', () => {
    const windowed = solution.profiles[3]!;
    const far = { ...windowed, out: windowed.out.map((each) => each + 50) };
    const drawn = { colour: 'green', lengthMm: survey.wall.width, units: 'mm' } as const;
    const drawing = drawMisfit({ ...drawn, profile: far, misfit: measureMisfit(far, nodes) });
    const path = String(listElements(drawing, 'path')[0]!.attrs.d);
    expect(path.match(/M/g)).toHaveLength(2);
    const rows = [...path.matchAll(/,([\d.]+)/g)].map(([, y]) => Number(y));
    expect(Math.min(...rows)).toBe(Math.max(...rows));
    const none = {
      ...windowed,
      s: new Float64Array(0),
      out: new Float64Array(0),
      sigma: new Float64Array(0),
    };
    const empty = drawMisfit({ ...drawn, profile: none, misfit: measureMisfit(none, nodes) });
    expect(toSvg(empty)).not.toMatch(/NaN/);
    expect(listTexts(empty)).toContain('not seen');
  });
});

test('phones are drawn in one scale: as far off the wall from above as from the side', () => {
  const pose = (id: string, along: number, up: number, outMm: number) => ({
    ...solution.photos[0]!,
    id,
    position: { along, up, out: outMm },
  });
  const photos = [pose('f1', 500, 300, 1000), pose('f2', 2500, 1800, 3000)];
  const dots = listElements(drawPhonePlaces({ wall: survey.wall, photos, units: 'mm' }), 'circle');
  const [above1, above2, side1, side2] = dots.map(({ attrs }) => ({
    x: Number(attrs.cx),
    y: Number(attrs.cy),
  }));
  const perMm = (above2!.x - above1!.x) / 2000;
  expect((above2!.y - above1!.y) / 2000).toBeCloseTo(perMm, 9);
  expect((side2!.x - side1!.x) / 2000).toBeCloseTo(perMm, 9);
  expect((side1!.y - side2!.y) / 1500).toBeCloseTo(perMm, 9);
});
