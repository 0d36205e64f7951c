import { expect, test } from 'vitest';
import { advisePhoto, type Advice } from '../../../src/core/camera/advice.ts';
import { adviceWords } from '../../../src/ui/guide/adviceWords.ts';
import { startPlan } from '../../../src/ui/guide/startPlan.ts';
import { lensWords } from '../../../src/ui/lens/lensWords.ts';
import { makeSurvey } from '../../truth/survey.ts';

const { survey } = makeSurvey(1, 'plaster', { levels: [750], plumbs: [], everyPx: 40 });

test('a plan starts from what the survey knows, and with what is usual where it knows nothing', () => {
  expect(startPlan(survey, 'level')).toMatchObject({
    focal35Mm: 27,
    longSidePx: 4032,
    shortSidePx: 3024,
    lens: { k1: 0, sigma: 0.01 },
    readingSigmaMm: 0.7,
  });
  const empty = { ...survey, photos: [], readings: [], phones: [] };
  expect(startPlan(empty, 'level')).toMatchObject({ focal35Mm: 26, longSidePx: 4000, readingSigmaMm: 0.7 });
});

test.each([
  ['level', 3600, 2450],
  ['plumb', 3600, 2450],
  ['level', 2400, 2300],
  ['plumb', 6000, 2700],
] as const)('a %s line on a wall of %i x %i: where one starts is nearly right', (axis, width, height) => {
  const plan = startPlan({ ...survey, wall: { ...survey.wall, width, height } }, axis);
  const { worth, advice } = advisePhoto(plan);
  expect(worth.shapeMm).toBeLessThan(1);
  for (const each of advice) if ('byMm' in each) expect(each.byMm).toBeLessThan(700);
});

test('every advice is a sentence with its figure', () => {
  const codes = ['back', 'nearer', 'higher', 'lower', 'left', 'right'] as const;
  const all: Advice[] = [
    ...codes.map((code) => ({ code, byMm: 348 })),
    { code: 'side_by_side', count: 3 },
    { code: 'marks', count: 1 },
    { code: 'marks', count: 2 },
    { code: 'stand', sigmaMm: 10 },
    { code: 'lens', lensMm: 0.42 },
  ];
  for (const each of all) {
    expect(adviceWords(each, 'mm')).toMatch(/^[A-Z].{15,}[.]$/);
    expect(adviceWords(each, 'mm')).not.toMatch(/undefined|NaN/);
    if ('byMm' in each) expect(adviceWords(each, 'mm')).toContain('350 mm');
  }
  expect(adviceWords({ code: 'lower', byMm: 348 }, 'inch')).toContain('in lower');
});

test('a lens is written with its sign and its uncertainty', () => {
  expect(lensWords({ k1: -0.0061, sigma: 0.0004 })).toBe('k1 −0.0061 ± 0.0004');
  expect(lensWords({ k1: null, sigma: 0.01 })).toBe('k1 not known (0 ± 0.0100)');
});
