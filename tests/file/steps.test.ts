import { expect, test } from 'vitest';
import { parseSurvey } from '../../src/file/survey.ts';
import { knownVersion, stepUp, versionSteps, type VersionStep } from '../../src/file/steps.ts';
import { contractText } from './contract.ts';

// two made-up steps, to see the mechanism at work while the format has but one version
const rename: VersionStep = ({ name, ...rest }) => ({ ...rest, title: name });
const count: VersionStep = (old) => ({ ...old, steps: (Number(old.steps) || 0) + 1 });

test('a survey takes every step from its version on, and says its new version', () => {
  expect(stepUp({ version: 1, name: 'a' }, 1, [rename, count])).toEqual({ version: 3, title: 'a', steps: 1 });
  expect(stepUp({ version: 2, title: 'a' }, 2, [rename, count])).toEqual({
    version: 3,
    title: 'a',
    steps: 1,
  });
  expect(stepUp({ version: 3, title: 'a' }, 3, [rename, count])).toEqual({ version: 3, title: 'a' });
});

test('a step leaves the survey it was given as it was', () => {
  const old = Object.freeze({ version: 1, name: 'a' });
  stepUp(old, 1, [rename]);
  expect(old).toEqual({ version: 1, name: 'a' });
});

// One survey of every version ever released; a new version adds its own line here.
const released: Record<number, string> = { 1: contractText };

test('every version ever released opens as the newest', () => {
  expect(Object.keys(released).map(Number)).toEqual(Array.from({ length: knownVersion }, (_, k) => k + 1));
  expect(versionSteps.length).toBe(knownVersion - 1);
  for (const text of Object.values(released)) expect(parseSurvey(text).version).toBe(knownVersion);
});
