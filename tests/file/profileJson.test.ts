import { expect, test } from 'vitest';
import { Refused, type Refusal } from '../../src/core/refusal.ts';
import { parseProfile, writeProfile, type LiningProfile } from '../../src/file/profileJson.ts';

const profile: LiningProfile = {
  name: 'Old brick',
  savedAt: 1000,
  board: { width: 1200, length: 2400, thickness: 12.5 },
  bed: { min: 5, max: 20, packedMax: 40 },
  settings: { floorGapMm: 15 },
};
const written = () =>
  JSON.parse(writeProfile(profile)) as { lining: { bed: object } } & Record<string, unknown>;
function refusal(given: unknown): Refusal | null {
  try {
    parseProfile(given, 'a.json');
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  return null;
}

test('what was written is read again, from text, value and text with a byte order mark', () => {
  for (const given of [writeProfile(profile), written(), `\uFEFF${writeProfile(profile)}`])
    expect(parseProfile(given, 'a.json')).toEqual(profile);
});

test('what may be missing gets its usual value', () => {
  expect(parseProfile({ ...written(), lining: {} }, 'a.json')).toEqual({ ...profile, settings: undefined });
});

test('a file of something else is refused', () => {
  const expected = { code: 'profile_not_ours', file: 'a.json' };
  for (const given of ['{ "form', '[]', 'null', null, 7, { format: 'bedplane-survey', version: 1 }])
    expect(refusal(given)).toEqual(expected);
});

test('a profile with a fault is refused with its place', () => {
  const at = (given: unknown) => {
    const found = refusal(given);
    return found?.code === 'profile_field_wrong' ? `${found.path}: ${found.problem}` : found;
  };
  expect(at({ ...written(), version: 2 })).toBe('version: must be 1');
  expect(at({ ...written(), name: ' ' })).toBe('name: must not be empty');
  expect(at({ ...written(), lining: { board: { width: -1 } } })).toBe(
    'lining.board.width: must be more than 0',
  );
  expect(at({ ...written(), lining: { settings: { bagKg: '25' } } })).toBe(
    'lining.settings.bagKg: must be a number, is text',
  );
  expect(at({ ...written(), lining: { bed: { min: 30 } } })).toBe('lining.bed: its limits must rise');
});
