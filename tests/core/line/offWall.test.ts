import { describe, expect, test } from 'vitest';
import { wallFromImageOnSheet } from '../../../src/core/camera/camera.ts';
import { findOffWall } from '../../../src/core/line/offWall.ts';
import { makeSurvey } from '../../truth/survey.ts';

const box = { along: 600, up: 1210, width: 80, height: 80, proud: 8 };
const opening = { along: 1500, up: 900, width: 700, height: 800 };

describe('points of a level line that runs over a box and past a window', () => {
  const { survey, cameras } = makeSurvey(5, 'plaster', {
    boxes: [box],
    openings: [opening],
    levels: [1250],
    plumbs: [],
    lineNoisePx: 0,
  });
  const sheet = { axis: 'level', at: 1250 } as const;
  const { points } = survey.photos[0]!.lines[0]!;
  const seen = points.map((point) => wallFromImageOnSheet(cameras[0]!, point, sheet).along);
  const flags = findOffWall(points, cameras[0]!, sheet, survey.wall);
  const flagged = (from: number, to: number) =>
    flags.filter((_, k) => seen[k]! > from && seen[k]! < to).map(Number);

  test('are kept on the face of the box, and left out at its edges', () => {
    const face = flagged(607, 673);
    expect(face.length).toBeGreaterThan(40);
    expect(Math.max(...face)).toBe(0);
    expect(Math.min(...flagged(595, 605))).toBe(1);
    expect(Math.min(...flagged(675, 685))).toBe(1);
  });
  test('are kept on the wall, and left out near the window', () => {
    expect(Math.max(...flagged(100, 590))).toBe(0);
    expect(Math.max(...flagged(2300, 3500))).toBe(0);
    expect(Math.min(...flagged(1495, 1500))).toBe(1);
  });
  test('are kept nowhere on a box too narrow to have a face', () => {
    const narrow = { ...survey.wall, boxes: [{ ...survey.wall.boxes[0]!, along: 634, width: 12 }] };
    const found = findOffWall(points, cameras[0]!, sheet, narrow);
    expect(found.filter((_, k) => seen[k]! > 629 && seen[k]! < 651).every(Boolean)).toBe(true);
  });
});
