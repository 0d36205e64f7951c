import { describe, expect, test } from 'vitest';
import { makeSurvey } from '../../src/app/newSurvey.ts';
import {
  applyProfile,
  isOfProfile,
  makeProfileFile,
  readProfileFile,
  takeProfile,
} from '../../src/app/profile.ts';
import type { Lining } from '../../src/core/survey.ts';

const plain = makeSurvey('North wall', 3600, 2450, 'mm').lining;
const face = { id: 'f1', kind: 'door lining', along: 0, up: 0, distance: 40, rule: 'meet' as const };
/** A lining with everything in it. */
const full: Lining = {
  board: { width: 900, length: 1800, thickness: 15 },
  bed: { min: 6, max: 25, packedMax: 50 },
  stock: [{ width: 900, length: 2400 }],
  plane: { sigmas: 2, lean: 1, turn: 'square', squareBy: 3, faces: [face] },
  hackOff: [{ along: 500, up: 600 }],
  start: 'left',
  settings: { floorGapMm: 15, fromLater: 3 },
  screwLengths: [60, 80],
  asBuilt: [{ screw: 'A1', projection: 12 }],
  done: ['A1'],
};

describe('a profile', () => {
  test('takes the way of working and leaves what belongs to the wall', () => {
    expect(takeProfile(full, 'mine', 5)).toEqual({
      name: 'mine',
      savedAt: 5,
      board: full.board,
      bed: full.bed,
      stock: full.stock,
      screwLengths: full.screwLengths,
      settings: full.settings,
      sigmas: 2,
      lean: 1,
    });
  });
  test('applied to another wall changes only that', () => {
    const applied = applyProfile({ ...plain, hackOff: [], done: ['B1'] }, takeProfile(full, 'mine', 5));
    const { board, bed, stock, settings, screwLengths } = full;
    const plane = { sigmas: 2, lean: 1 };
    expect(applied).toEqual({ board, bed, stock, settings, screwLengths, plane, hackOff: [], done: ['B1'] });
  });
  test('with nothing of its own puts a lining back to the usual, its wall left alone', () => {
    const applied = applyProfile(full, takeProfile(plain, 'usual', 5));
    const { hackOff, start, asBuilt, done } = full;
    const plane = { turn: 'square', squareBy: 3, faces: [face] };
    expect(applied).toEqual({ ...plain, plane, hackOff, start, asBuilt, done });
    expect(Object.values(applied)).not.toContain(undefined);
  });
  test('applied where it was taken changes nothing', () => {
    expect(applyProfile(full, takeProfile(full, 'mine', 5))).toEqual(full);
    expect(applyProfile(plain, takeProfile(plain, 'usual', 5))).toEqual(plain);
  });
  test('is told apart from a lining by any of its figures, not by the order of their names', () => {
    const profile = takeProfile(full, 'mine', 5);
    expect(isOfProfile({ ...full, settings: { fromLater: 3, floorGapMm: 15 }, done: [] }, profile)).toBe(
      true,
    );
    expect(isOfProfile({ ...full, settings: { floorGapMm: 15 } }, profile)).toBe(false);
    expect(isOfProfile({ ...full, plane: { ...full.plane, sigmas: 1 } }, profile)).toBe(false);
    expect(isOfProfile(plain, profile)).toBe(false);
  });
  test('goes through its file unchanged', async () => {
    for (const lining of [full, plain]) {
      const profile = takeProfile(lining, 'mine', 5);
      const read = readProfileFile(await makeProfileFile(profile).text(), 'mine.json');
      expect(read).toEqual(profile);
      expect(applyProfile(plain, read)).toEqual(applyProfile(plain, profile));
    }
  });
});
