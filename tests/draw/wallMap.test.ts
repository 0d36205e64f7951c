import { expect, test } from 'vitest';
import { look } from '../../src/draw/look.ts';
import { listTexts } from '../../src/draw/tree.ts';
import { frameOfWall } from '../../src/draw/wall.ts';
import { drawWallMap, type MapOf } from '../../src/draw/wallMap.ts';
import { makeAdvice, nextLevel, nextPlumb, nextReading } from './advice.ts';
import { listElements } from './boxes.ts';
import { roughPlan } from './walls.ts';

const all: readonly MapOf[] = ['sigma', 'thin', 'packing', 'beyond'];
const signals = (drawing: ReturnType<typeof drawWallMap>, tag: string) =>
  listElements(drawing, tag).filter(
    ({ attrs }) => attrs.stroke === look.signal || attrs.fill === look.signal,
  );

test('a map names every band that is on the wall and none that is not', () => {
  const { survey, solution, plan } = roughPlan();
  const texts = listTexts(drawWallMap({ survey, solution, plan, next: null }, 'beyond'));
  expect(texts).toContain('under 5 %');
  expect(texts).not.toContain('over 95 %');
  expect(listTexts(drawWallMap({ survey, solution, plan, next: null }, 'packing'))).toContain('over 95 %');
});

test('what to measure next stands on the wall in the signal colour with its dimension', () => {
  const known = roughPlan();
  const frame = frameOfWall(known.survey.wall, {});
  for (const [next, figures] of [
    [nextLevel, ['1550']],
    [nextPlumb, ['950']],
    [nextReading, ['2450', '1150']],
  ] as const) {
    const drawing = drawWallMap({ ...known, next: makeAdvice(next) }, 'sigma');
    const written = signals(drawing, 'text').flatMap((node) => listTexts(node));
    for (const figure of figures) expect(written).toContain(figure);
    const places = signals(drawing, 'path').map(({ attrs }) => String(attrs.d));
    const at = next.kind === 'plumb' ? frame.x(950) : frame.y(next.up);
    expect(places.some((d) => d.includes(String(Number(at.toFixed(2)))))).toBe(true);
  }
});

test('nothing in the signal colour where nothing is worth measuring', () => {
  for (const of of all) {
    const drawing = drawWallMap({ ...roughPlan(), next: makeAdvice(null) }, of);
    expect(signals(drawing, 'path')).toEqual([]);
    expect(listTexts(drawing)).not.toContain('Measure next');
  }
});

test('without a plan there are no chances, and a surface nowhere known is drawn as none', () => {
  const { survey, solution } = roughPlan();
  const surface = { ...solution.surface, sigma: solution.surface.sigma.map(() => NaN) };
  for (const of of all) {
    const drawing = drawWallMap(
      { survey, solution: { ...solution, surface, profiles: [] }, plan: null, next: null },
      of,
    );
    expect(listElements(drawing, 'path').some(({ attrs }) => attrs['fill-rule'] === 'evenodd')).toBe(false);
  }
});
