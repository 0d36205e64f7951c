import { beforeAll, describe, expect, test } from 'vitest';
import { imageFromWall, type Camera } from '../../../src/core/camera/camera.ts';
import { rotationFromVector } from '../../../src/core/camera/frames.ts';
import { undistortRadius } from '../../../src/core/camera/lens.ts';
import { checkLens } from '../../../src/core/camera/plumbLine.ts';
import { CAMERA_PARAMETERS, FOCAL_PARAMETER } from '../../../src/core/camera/projection.ts';
import { resectPhoto } from '../../../src/core/camera/resect.ts';
import type { Mat, MatVector, OpenCv, Size } from '../../../src/vision/opencv/types.ts';
import { loadOpenCvInNode } from '../../opencvNode.ts';
import { aimCamera, makePhoto, makeRandomView, startChance, takeMarks } from './madePhoto.ts';

// OpenCV 4.3 (opencv-wasm 4.3.0-10) as the independent source: its homography, its Brown lens, its calibration.

interface Calib3d extends OpenCv {
  findHomography(from: Mat, to: Mat): Mat;
  undistort(src: Mat, dst: Mat, cameraMatrix: Mat, coefficients: Mat): void;
  calibrateCameraExtended(
    places: MatVector,
    images: MatVector,
    size: Size,
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

/** OpenCV's flags: USE_INTRINSIC_GUESS, FIX_ASPECT_RATIO, FIX_PRINCIPAL_POINT, ZERO_TANGENT_DIST, FIX_K2, FIX_K3. */
const ONLY_FOCAL_AND_K1 = 1 + 2 + 4 + 8 + 64 + 128;

let cv: Calib3d;
beforeAll(async () => {
  cv = (await loadOpenCvInNode()).cv as Calib3d;
});

function intrinsics(camera: Camera): number[] {
  const { focalPx, widthPx, heightPx } = camera;
  return [focalPx, 0, (widthPx - 1) / 2, 0, focalPx, (heightPx - 1) / 2, 0, 0, 1];
}

describe('a plane seen without distortion', () => {
  const camera = aimCamera(
    { along: 900, up: 1900, out: 2400 },
    { along: 1700, up: 1100 },
    { k1: 0, rollRad: 0.03 },
  );
  const places = [
    [0, 0],
    [3000, 100],
    [200, 2000],
    [2800, 2300],
    [1500, 900],
  ] as const;
  const images = places.map(([along, up]) => imageFromWall(camera, { along, up, out: 0 }));

  test('is the homography that findHomography fits', () => {
    const from = cv.matFromArray(5, 1, cv.CV_32FC2, places.flat());
    const to = cv.matFromArray(
      5,
      1,
      cv.CV_32FC2,
      images.flatMap(({ u, v }) => [u, v]),
    );
    const found = cv.findHomography(from, to);
    const h = Array.from(found.data64F);
    for (const mat of [from, to, found]) mat.delete();
    for (const [along, up] of [
      [700, 1600],
      [2300, 400],
    ] as const) {
      const w = h[6]! * along + h[7]! * up + h[8]!;
      const image = imageFromWall(camera, { along, up, out: 0 });
      // single-precision points
      expect((h[0]! * along + h[1]! * up + h[2]!) / w).toBeCloseTo(image.u, 2);
      expect((h[3]! * along + h[4]! * up + h[5]!) / w).toBeCloseTo(image.v, 2);
    }
  });
});

test('the lens moves a picture as undistort does', () => {
  const k1 = -0.05;
  const [width, height] = [400, 300];
  const camera = {
    ...aimCamera({ along: 0, up: 0, out: 1 }, { along: 0, up: 0 }),
    focalPx: 290,
    widthPx: width,
    heightPx: height,
  };
  // a picture whose values are its own columns: undistorted, each pixel tells where the lens had put it
  const ramp = Float32Array.from({ length: width * height }, (_, i) => i % width);
  const src = cv.matFromArray(height, width, cv.CV_32FC1, ramp);
  const dst = new cv.Mat();
  const matrix = cv.matFromArray(3, 3, cv.CV_64FC1, intrinsics(camera));
  const coefficients = cv.matFromArray(1, 5, cv.CV_64FC1, [k1, 0, 0, 0, 0]);
  cv.undistort(src, dst, matrix, coefficients);
  const moved = Float32Array.from(dst.data32F);
  for (const mat of [src, dst, matrix, coefficients]) mat.delete();
  let compared = 0;
  for (const [u, v] of [
    [60, 50],
    [199, 149],
    [330, 240],
    [90, 260],
  ] as const) {
    const x = (u - 199.5) / 290;
    const y = (v - 149.5) / 290;
    const distorted = moved[v * width + u]!;
    // remap works in steps of 1/32 px
    expect(distorted).toBeCloseTo(199.5 + 290 * x * (1 + k1 * (x * x + y * y)), 1);
    expect(Math.abs(distorted - (199.5 + 290 * x * (1 + k1 * (x * x + y * y))))).toBeLessThan(1 / 60);
    const radius = Math.hypot(x, y);
    expect(undistortRadius(radius * (1 + k1 * radius * radius), k1)).toBeCloseTo(radius, 12);
    compared += 1;
  }
  expect(compared).toBe(4);
});

test('a noisy view with many marks is resected as calibrateCamera does', () => {
  const chance = startChance(5);
  const { camera, places } = makeRandomView(chance, 24, 250);
  const marks = takeMarks(camera, places, { sigmaPx: 0.3, chance });
  const photo = makePhoto(camera, {
    marks: marks.map((mark) => ({ ...mark, sigma: 0.001 })),
    stand: { off: null, up: null, along: null, sigma: 10 },
  });
  const ours = resectPhoto(photo, { k1: 0, sigma: 10 });
  const objects = new cv.MatVector();
  const images = new cv.MatVector();
  objects.push_back(
    cv.matFromArray(
      24,
      1,
      cv.CV_32FC3,
      marks.flatMap(({ along, up }) => [along, -up, 0]),
    ),
  );
  images.push_back(
    cv.matFromArray(
      24,
      1,
      cv.CV_32FC2,
      marks.flatMap(({ u, v }) => [u, v]),
    ),
  );
  const matrix = cv.matFromArray(
    3,
    3,
    cv.CV_64FC1,
    intrinsics({ ...camera, focalPx: camera.focalPx * 1.03 }),
  );
  const coefficients = cv.matFromArray(1, 5, cv.CV_64FC1, [0, 0, 0, 0, 0]);
  const [rotations, shifts] = [new cv.MatVector(), new cv.MatVector()];
  const [sd1, sd2, errors] = [new cv.Mat(), new cv.Mat(), new cv.Mat()];
  const rmsPx = cv.calibrateCameraExtended(
    objects,
    images,
    new cv.Size(camera.widthPx, camera.heightPx),
    matrix,
    coefficients,
    rotations,
    shifts,
    sd1,
    sd2,
    errors,
    ONLY_FOCAL_AND_K1,
  );
  const focalPx = matrix.data64F[0]!;
  const k1 = coefficients.data64F[0]!;
  const shift = Array.from(shifts.get(0).data64F);
  const turn = Array.from(rotations.get(0).data64F) as [number, number, number];
  const [, focalSdPx, , , k1Sd] = Array.from(sd1.data64F);
  for (const item of [objects, images, matrix, coefficients, rotations, shifts, sd1, sd2, errors])
    item.delete();

  // its rms is over points, ours over coordinates
  expect(ours.markRmsPx * Math.SQRT2).toBeCloseTo(rmsPx, 4);
  expect(ours.camera.focalPx / focalPx).toBeCloseTo(1, 6);
  expect(ours.camera.k1).toBeCloseTo(k1, 6);
  turn.forEach((value, i) => expect(ours.camera.rotationRad[i]).toBeCloseTo(value, 6));
  // its frame is along, down, into the wall: position = -R^T shift
  const r = rotationFromVector(turn);
  const position = [0, 1, 2].map((k) => -(r[k]! * shift[0]! + r[3 + k]! * shift[1]! + r[6 + k]! * shift[2]!));
  expect(ours.camera.position.along).toBeCloseTo(position[0]!, 2);
  expect(ours.camera.position.up).toBeCloseTo(-position[1]!, 2);
  expect(ours.camera.position.out).toBeCloseTo(-position[2]!, 2);
  // its standard deviations (the focal length under fy, fx being tied to it) are scaled by the residuals;
  // OpenCV 4.3 reckons 24 points, not 48 coordinates, less 8 unknowns
  const scale = Math.sqrt(ours.chiSquare / 16);
  expect(
    (Math.sqrt(ours.covariance[FOCAL_PARAMETER * (CAMERA_PARAMETERS + 1)]!) * scale * ours.camera.focalPx) /
      focalSdPx!,
  ).toBeCloseTo(1, 3);
  expect((ours.k1Sigma * scale) / k1Sd!).toBeCloseTo(1, 3);
});

test('rows and columns of a board give the k1 that calibrateCamera has from the board itself', () => {
  const chance = startChance(12);
  const camera = aimCamera({ along: 1500, up: 1400, out: 2300 }, { along: 1800, up: 1200 }, { k1: -0.03 });
  const [columns, rows] = [19, 13];
  const places = Array.from({ length: columns * rows }, (_, k) => ({
    along: 690 + 115 * (k % columns),
    up: 480 + 115 * Math.floor(k / columns),
  }));
  const marks = takeMarks(camera, places, { sigmaPx: 0.1, chance });
  const objects = new cv.MatVector();
  const images = new cv.MatVector();
  const onBoard = places.flatMap(({ along, up }) => [along, -up, 0]);
  objects.push_back(cv.matFromArray(places.length, 1, cv.CV_32FC3, onBoard));
  const seen = marks.flatMap(({ u, v }) => [u, v]);
  images.push_back(cv.matFromArray(places.length, 1, cv.CV_32FC2, seen));
  const matrix = cv.matFromArray(3, 3, cv.CV_64FC1, intrinsics(camera));
  const coefficients = cv.matFromArray(1, 5, cv.CV_64FC1, [0, 0, 0, 0, 0]);
  const [rotations, shifts] = [new cv.MatVector(), new cv.MatVector()];
  const [sd1, sd2, errors] = [new cv.Mat(), new cv.Mat(), new cv.Mat()];
  const size = new cv.Size(camera.widthPx, camera.heightPx);
  cv.calibrateCameraExtended(
    objects,
    images,
    size,
    matrix,
    coefficients,
    rotations,
    shifts,
    sd1,
    sd2,
    errors,
    ONLY_FOCAL_AND_K1,
  );
  const focalPx = matrix.data64F[0]!;
  const k1 = coefficients.data64F[0]!;
  const k1Sd = sd1.data64F[4]!;
  for (const item of [objects, images, matrix, coefficients, rotations, shifts, sd1, sd2, errors])
    item.delete();

  const takeRun = (chosen: readonly (typeof marks)[number][]) => ({
    u: Float64Array.from(chosen, ({ u }) => u),
    v: Float64Array.from(chosen, ({ v }) => v),
    sigmaPx: Float64Array.from(chosen, () => 0.1),
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    focalPx,
  });
  const edges = [
    ...Array.from({ length: rows }, (_, j) => takeRun(marks.slice(j * columns, (j + 1) * columns))),
    ...Array.from({ length: columns }, (_, i) => takeRun(marks.filter((__, k) => k % columns === i))),
  ];
  const ours = checkLens(edges, 0);
  // the board's straightness is part of what OpenCV uses: it knows more, from the same points
  expect(ours.agrees).toBe(true);
  expect(Math.abs(ours.k1 - k1)).toBeLessThan(2 * ours.sigma);
  expect(Math.abs(ours.k1 + 0.03)).toBeLessThan(3 * ours.sigma);
  expect(ours.sigma).toBeLessThan(0.001);
  expect(ours.sigma / k1Sd).toBeGreaterThan(0.8);
});
