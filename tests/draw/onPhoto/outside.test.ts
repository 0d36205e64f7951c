import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { dairyWall } from '../../../samples/make/dairy.ts';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import { rotationFromVector } from '../../../src/core/camera/frames.ts';
import type { Solution } from '../../../src/core/results.ts';
import type { Survey } from '../../../src/core/survey.ts';
import { seeBoards } from '../../../src/draw/onPhoto/photoBoards.ts';
import { placeOnPhoto } from '../../../src/draw/onPhoto/photoLines.ts';
import { sightPhoto } from '../../../src/draw/onPhoto/photoSight.ts';
import type { Point } from '../../../src/draw/rings.ts';
import type { Mat, MatVector, OpenCv } from '../../../src/vision/opencv/types.ts';
import { loadOpenCvInNode } from '../../opencvNode.ts';
import { photoPlan, sightOf } from './photoPlan.ts';

// OpenCV 4.3 as the independent source. This build hands out no projectPoints, but calibrateCamera calls it: with all of the lens held it looks
// for the pose from which its projections lie nearest to ours, and tells what is left between them.
interface Calib3d extends OpenCv {
  calibrateCameraExtended(
    places: MatVector,
    images: MatVector,
    size: unknown,
    cameraMatrix: Mat,
    coefficients: Mat,
    rotations: MatVector,
    shifts: MatVector,
    sdIntrinsics: Mat,
    sdExtrinsics: Mat,
    errors: Mat,
    flags: number,
  ): number;
  CV_32FC2: number;
  CV_32FC3: number;
}

/** USE_INTRINSIC_GUESS, FIX_PRINCIPAL_POINT, ZERO_TANGENT_DIST, FIX_FOCAL_LENGTH, FIX_K1 to FIX_K3. */
const ONLY_POSE = 1 + 4 + 8 + 16 + 32 + 64 + 128;

test("corners of the boards' faces are drawn where OpenCV projects them, to 0.01 px", async () => {
  const cv = (await loadOpenCvInNode()).cv as Calib3d;
  const wall = photoPlan(undefined, -0.05);
  const { sight } = sightOf(wall);
  const { position, rotationRad, focalPx, k1, widthPx, heightPx } = sight.camera;
  const lift = sight.onPlane(wall.survey.lining.board.thickness);
  const drawn = seeBoards(sight, lift, wall.plan.boards).flat();
  const corners = wall.plan.boards.flatMap(({ outline, along, up, width, height }): Point[] =>
    outline
      ? outline.map((corner): Point => [corner.along, corner.up])
      : [
          [along, up],
          [along + width, up],
          [along + width, up + height],
          [along, up + height],
        ],
  );
  const seen = corners.flatMap((corner) => {
    const at = placeOnPhoto(sight, lift, corner)!;
    const isIn = at[0] > 0 && at[1] > 0 && at[0] < widthPx && at[1] < heightPx;
    return isIn ? [{ place: lift(corner), at }] : [];
  });
  expect(seen.length).toBeGreaterThan(8);
  for (const { at } of seen)
    expect(Math.min(...drawn.map(([x, y]) => Math.hypot(x - at[0], y - at[1])))).toBeLessThan(1e-6);

  const [objects, images] = [new cv.MatVector(), new cv.MatVector()];
  // its axes: along, down, into the wall; metres, for it reckons places in single precision
  const places = seen.flatMap(({ place }) => [place.along, -place.up, -place.out].map((mm) => mm / 1000));
  objects.push_back(cv.matFromArray(seen.length, 1, cv.CV_32FC3, places));
  const pixels = seen.flatMap(({ at }) => [at[0] - 0.5, at[1] - 0.5]);
  images.push_back(cv.matFromArray(seen.length, 1, cv.CV_32FC2, pixels));
  const intrinsics = [focalPx, 0, (widthPx - 1) / 2, 0, focalPx, (heightPx - 1) / 2, 0, 0, 1];
  const matrix = cv.matFromArray(3, 3, cv.CV_64FC1, intrinsics);
  const lens = cv.matFromArray(1, 5, cv.CV_64FC1, [k1, 0, 0, 0, 0]);
  const [rotations, shifts] = [new cv.MatVector(), new cv.MatVector()];
  const [sd1, sd2, errors] = [new cv.Mat(), new cv.Mat(), new cv.Mat()];
  const picture = new cv.Size(widthPx, heightPx);
  const rmsPx = cv.calibrateCameraExtended(
    objects,
    images,
    picture,
    matrix,
    lens,
    rotations,
    shifts,
    sd1,
    sd2,
    errors,
    ONLY_POSE,
  );
  const turn = Array.from(rotations.get(0).data64F) as [number, number, number];
  const shift = Array.from(shifts.get(0).data64F);
  for (const item of [objects, images, matrix, lens, rotations, shifts, sd1, sd2, errors]) item.delete();

  expect(rmsPx).toBeLessThan(0.01);
  // and it stands where the photo was placed: position = -R^T shift
  turn.forEach((angle, k) => expect(angle).toBeCloseTo(rotationRad[k]!, 5));
  const r = rotationFromVector(turn);
  const stand = [0, 1, 2].map((k) => -(r[k]! * shift[0]! + r[3 + k]! * shift[1]! + r[6 + k]! * shift[2]!));
  [position.along, -position.up, -position.out].forEach((mm, k) =>
    expect(1000 * stand[k]!).toBeCloseTo(mm, 1),
  );
});

// the sample's true cameras and wall, as the program that rendered its photographs wrote them
const folder = new URL('../../../samples/dairy-north-wall/', import.meta.url);
const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, folder), 'utf8'));
interface Truth {
  stepMm: number;
  nx: number;
  ny: number;
  out: (number | null)[];
  k1: number;
  cameras: { photo: string; position: number[]; rotationRad: [number, number, number]; focalPx: number }[];
}

test('what is marked in the photographs is drawn on its mark: clicks to a pixel or two', () => {
  const survey = read('survey.json') as Survey;
  const { stepMm, nx, ny, out, k1, cameras } = read('expected.json') as Truth;
  const { solution, plan } = photoPlan();
  const truth: Solution = {
    ...solution,
    surface: {
      ...{ stepMm, nx, ny, out: Float64Array.from(out, (each) => each ?? NaN) },
      sigma: new Float64Array(nx * ny).fill(1),
    },
    phones: [{ id: survey.phones[0]!.id, k1, sigma: 0.001 }],
    photos: cameras.map(({ photo, position, rotationRad, focalPx }) => ({
      ...{ id: photo, rotationRad, focalPx, offsetSigmaMm: 1, markRmsPx: 1 },
      position: { along: position[0]!, up: position[1]!, out: position[2]! },
    })),
  };
  const misses = survey.photos.map((photo) => {
    const isLevel = photo.lines[0]!.sheet.axis === 'level';
    const size = isLevel ? { widthPx: 4000, heightPx: 3000 } : { widthPx: 3000, heightPx: 4000 };
    const sighting = sightPhoto({ survey, solution: truth, plan }, photo, size);
    if (!sighting.ok) throw new Error(sighting.why.code);
    const { sight } = sighting;
    return photo.marks.map(({ u, v, along, up }) => {
      const [x, y] = placeOnPhoto(sight, sight.onWall, [along, up])!;
      const isCorner = (along === 1500 && up === 2000) || (along === 2200 && up === 900);
      const truly = imageFromWall(sight.camera, { along, up, out: dairyWall.outMm(along, up) });
      const offTruth = Math.hypot(x - 0.5 - truly.u, y - 0.5 - truly.v);
      return { id: photo.id, isCorner, offTruth, offClick: Math.hypot(x - 0.5 - u, y - 0.5 - v) };
    });
  });
  const all = misses.flat();
  const corners = all.filter(({ isCorner }) => isCorner);
  expect(corners).toHaveLength(16);
  // where the program that rendered the photographs put them
  expect(Math.max(...all.map(({ offTruth }) => offTruth))).toBeLessThan(0.25);
  // the clicks themselves stray by up to 4 px (tests/samples)
  expect(Math.max(...corners.map(({ offClick }) => offClick))).toBeLessThan(4);
  const shown = corners.filter(({ id }) => id === 'f2' || id === 'f6');
  expect(Math.max(...shown.map(({ offClick }) => offClick))).toBeLessThan(3);
});
