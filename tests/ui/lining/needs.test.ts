import { expect, test } from 'vitest';
import { makeSurvey } from '../../../src/app/newSurvey.ts';
import type { LiningPlan } from '../../../src/core/results.ts';
import type { Warning } from '../../../src/core/refusal.ts';
import { listCautions, listNeeds } from '../../../src/ui/lining/needs.ts';

const survey = makeSurvey('Wall', 3600, 2450, 'mm');
const planOf = (warnings: readonly Warning[], cautions: LiningPlan['verdict']['cautions'] = []) =>
  ({ warnings, verdict: { cautions } }) as unknown as LiningPlan;

test('each warning leads to the part where it is dealt with', () => {
  const needs = listNeeds(
    survey,
    planOf([
      { code: 'wish_not_kept', subject: 'lean' },
      { code: 'strip_narrow', subject: 'A' },
      { code: 'screw_too_short', subject: 'wall', count: 2 },
      { code: 'mix_outlasts_pot', subject: 'A' },
    ]),
  );
  expect(needs.map(({ hash }) => hash)).toEqual([
    '#lining/plane',
    '#lining/boards',
    '#lining/screws',
    '#lining/adhesive',
  ]);
  expect(needs[2]!.words).toMatch(/^2 gauge screws need a longer screw/);
});

test('the same warning about several boards is told once', () => {
  const needs = listNeeds(
    survey,
    planOf([
      { code: 'strip_narrow', subject: 'A' },
      { code: 'strip_narrow', subject: 'C' },
    ]),
  );
  expect(needs).toHaveLength(1);
  expect(needs[0]!.words).toMatch(/^Boards A, C: a narrow strip/);
});

test('a caution that a warning tells already is not told twice', () => {
  const cautions = ['external_wall_uninsulated', 'high_point_unsure'] as const;
  expect(listCautions(planOf([{ code: 'bed_may_be_thin', subject: 'wall' }], cautions))).toHaveLength(1);
  expect(listCautions(planOf([], cautions))).toHaveLength(2);
});
