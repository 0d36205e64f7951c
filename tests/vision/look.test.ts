import { beforeAll, describe, expect, test } from 'vitest';
import { imageFromWall } from '../../src/core/camera/camera.ts';
import type { LaserLine, Mark, Photo, Survey } from '../../src/core/survey.ts';
import { lookAtPhoto } from '../../src/vision/look.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { loadOpenCvInNode } from '../opencvNode.ts';
import { CLEAN, makeScene, takePhotograph, trueLineOf, type TestScene } from '../truth/scenes.ts';

const windowScene = makeScene('window', { window: true, widthPx: 640, heightPx: 480 });
let cv: OpenCv;
let picture: Picture;
beforeAll(async () => {
  cv = (await loadOpenCvInNode()).cv;
  picture = takePhotograph(windowScene, CLEAN);
});

const LINE: LaserLine = {
  id: 'l1',
  colour: 'green',
  sheet: { axis: 'level', at: windowScene.laser!.at },
  points: [],
  gaps: [],
};
const FOCAL_35_MM = 27;

/** The survey of one photo of a scene: six marks (on the reference plane) and the stand as they truly are. */
function surveyOf({ scene, camera }: TestScene, line: LaserLine, changes: Partial<Photo> = {}): Survey {
  const { width, height, openings, boxes } = scene.wall.plan;
  const marks: Mark[] = [
    [1320, 1130],
    [1740, 1140],
    [1340, 1400],
    [1720, 1400],
    [1500, 1180],
    [1600, 1350],
  ].map(([along, up]) => ({
    ...imageFromWall(camera, { along: along!, up: up!, out: 0 }),
    along: along!,
    up: up!,
    sigma: 0.3,
  }));
  const photo: Photo = {
    id: 'f1',
    file: 'photos/f1.jpg',
    phone: 'p1',
    stand: { off: camera.position.out, up: camera.position.up, along: camera.position.along, sigma: 5 },
    marks,
    tapes: [],
    masks: [],
    lines: [line],
    ...changes,
  };
  return {
    format: 'bedplane-survey',
    version: 1,
    title: 'test',
    units: 'mm',
    wall: { width, height, side: 'internal', openings: [...openings], boxes: [...boxes] },
    phones: [{ id: 'p1', name: 'phone', lens: { k1: null, sigma: 0.01 } }],
    readings: [],
    photos: [photo],
    lining: {
      board: { width: 1200, length: 2400, thickness: 12.5 },
      bed: { min: 5, max: 20, packedMax: 40 },
    },
  };
}

const look = (survey: Survey, of = picture, again = false) =>
  lookAtPhoto(cv, of, survey, 'f1', { focal35Mm: FOCAL_35_MM, again });

describe('lookAtPhoto', () => {
  test('notes the picture and finds the line on the wall, nothing in the window or on its reveals', () => {
    const { photo, warnings } = look(surveyOf(windowScene, LINE));
    expect(photo).toMatchObject({ widthPx: 640, heightPx: 480, focal35Mm: FOCAL_35_MM });
    expect(warnings.map(({ code }) => code)).toEqual(['photo_small', 'off_wall']);
    // what is seen in the window is told, not dropped in silence
    expect(warnings[1]!.count).toBeGreaterThan(5);
    const { points, gaps } = photo.lines[0]!;
    const truth = trueLineOf(windowScene);
    const visible = truth.visible.reduce((sum, value) => sum + value, 0);
    const off = points.filter(({ u }) => !truth.visible[u]);
    expect(off).toEqual([]);
    expect(points.length).toBeGreaterThan(0.94 * visible);
    const errors = points.map(({ u, v }) => (v - truth.centrePx[u]!) ** 2);
    expect(Math.sqrt(errors.reduce((a, b) => a + b, 0) / errors.length)).toBeLessThan(0.15);
    const widest = gaps.reduce((most, { from, to }) => Math.max(most, to - from), 0);
    expect(widest).toBeGreaterThan(200);
  });

  test('marks that tell no camera: the line is looked for anywhere', () => {
    const { photo, warnings } = look(surveyOf(windowScene, LINE, { marks: [] }));
    expect(photo.lines[0]!.points.length).toBeGreaterThan(400);
    expect(warnings.map(({ code }) => code)).not.toContain('no_line');
  });

  test('a line labelled with another height is found all the same', () => {
    const { photo } = look(surveyOf(windowScene, { ...LINE, sheet: { axis: 'level', at: 900 } }));
    expect(photo.lines[0]!.points.length).toBeGreaterThan(300);
  });

  test('a line without a height yet is found', () => {
    const { photo } = look(surveyOf(windowScene, { ...LINE, sheet: { axis: 'level', at: null } }));
    expect(photo.lines[0]!.points.length).toBeGreaterThan(400);
  });

  test('no laser on the wall, the other colour, the other axis: no_line and no points', () => {
    const bare = makeScene('bare', { power: 0, widthPx: 640, heightPx: 480 });
    const without = look(surveyOf(bare, LINE), takePhotograph(bare, CLEAN));
    const red = look(surveyOf(windowScene, { ...LINE, colour: 'red' }));
    const plumb = look(surveyOf(windowScene, { ...LINE, sheet: { axis: 'plumb', at: 1450 } }));
    for (const { photo, warnings } of [without, red, plumb]) {
      expect(photo.lines[0]!.points).toEqual([]);
      expect(warnings).toContainEqual({ code: 'no_line', subject: 'f1' });
    }
  });

  test('a line that has points is left alone, unless it is looked for again: then what was set by hand stays', () => {
    const byHand = { u: 100, v: 240.5, sigma: 0.5, state: 'moved' as const };
    const old = { u: 101, v: 3, sigma: 1, state: 'found' as const };
    const survey = surveyOf(windowScene, { ...LINE, points: [byHand, old] });
    const left = look(survey);
    expect(left.photo.lines).toEqual(survey.photos[0]!.lines);
    expect(left.photo.widthPx).toBe(640);
    const { points } = look(survey, picture, true).photo.lines[0]!;
    expect(points.filter(({ state }) => state === 'moved')).toEqual([byHand]);
    expect(points.filter(({ u }) => u === 100)).toEqual([byHand]);
    expect(points).not.toContainEqual(old);
    expect(points.length).toBeGreaterThan(300);
  });

  test('a mask of the photo keeps the line out', () => {
    const masks = [{ u: 0, v: 0, width: 640, height: 480 }];
    expect(look(surveyOf(windowScene, LINE, { masks })).warnings).toContainEqual({
      code: 'no_line',
      subject: 'f1',
    });
  });

  test('looking again gives the same again', () => {
    const survey = surveyOf(windowScene, LINE);
    expect(look(survey)).toEqual(look(survey));
  });

  test('a photo that the survey does not have is a bug', () => {
    expect(() => lookAtPhoto(cv, picture, surveyOf(windowScene, LINE), 'f9', { focal35Mm: null })).toThrow(
      'got f9',
    );
  });
});
