import { imageFromWall, type Camera } from '../../src/core/camera/camera.ts';
import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { LaserLine, LineAxis, Mark, Photo, Reading, Survey, WallRect } from '../../src/core/survey.ts';
import { seedRandom, type Random } from './random.ts';
import { makeWall, type WallKind, type WallTruth } from './wall.ts';

/** What may be changed of the standard made survey; noise 0 everywhere makes it exact. */
export interface SurveyOptions {
  readonly width?: number;
  readonly height?: number;
  readonly k1?: number;
  readonly k2?: number;
  readonly lens?: Survey['phones'][number]['lens'];
  readonly levels?: readonly number[];
  readonly plumbs?: readonly number[];
  readonly readingPlaces?: readonly (readonly [number, number])[];
  readonly readingNoiseMm?: number;
  /** The readings' errors over `readingNoiseMm`, instead of chance. */
  readonly readingErrors?: readonly number[];
  readonly markNoisePx?: number;
  readonly lineNoisePx?: number;
  readonly standNoiseMm?: number;
  /** True focal length over the one in the EXIF tag. */
  readonly focalRatio?: number;
  readonly openings?: readonly WallRect[];
  readonly boxes?: readonly (WallRect & { readonly proud: number })[];
  /** All level lines are photographed from where the first is, by one phone that was not moved (station `t1`). */
  readonly fixedPhone?: boolean;
  /** Distance between line points, px. */
  readonly everyPx?: number;
  /** Level lines are photographed in stretches of about this length (mm), one photo each; else whole. */
  readonly stretchMm?: number;
  readonly truth?: WallTruth;
}

export interface MadeSurvey {
  readonly survey: Survey;
  /** The wall without its boxes. */
  readonly truth: WallTruth;
  readonly cameras: readonly Camera[];
  readonly k1: number;
}

/** A sheet of light and the part of it (mm along its line) that one photograph shows. */
interface Sheet {
  readonly axis: LineAxis;
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

const longPx = 4032;
const shortPx = 3024;
const focal35Mm = 27;

/**
 * A survey as a user would bring it, lines already found, made from a known wall without drawing pictures: every level
 * line is photographed from above or below, every plumb line from its side; four tape marks each.
 */
export function makeSurvey(seed: number, kind: WallKind, options: SurveyOptions = {}): MadeSurvey {
  const { width = 3600, height = 2450, k1 = -0.006, k2 = 0 } = options;
  const random = seedRandom(seed);
  const truth = options.truth ?? makeWall(seed, kind, width, height);
  const levels = options.levels ?? [250, 750, 1250, 1750, 2200].map((at) => (at / 2450) * height);
  const plumbs = options.plumbs ?? [0.12, 0.5, 0.88].map((share) => share * width);
  const stretches = Math.max(1, Math.round(width / (options.stretchMm ?? width)));
  const stretchMm = width / stretches;
  const sheets: Sheet[] = [
    ...levels.flatMap((at) =>
      Array.from({ length: stretches }, (_, k) => ({
        axis: 'level' as const,
        at: Math.round(at),
        from: k * stretchMm,
        to: (k + 1) * stretchMm,
      })),
    ),
    ...plumbs.map((at) => ({ axis: 'plumb' as const, at: Math.round(at), from: 0, to: height })),
  ];
  const { fixedPhone = false } = options;
  const placed = sheets.map((sheet) =>
    placeCamera(sheet, width, height, { k1, k2 }, options.focalRatio ?? 1.017, random),
  );
  const isFixed = (index: number) => fixedPhone && sheets[index]!.axis === 'level';
  const cameras = placed.map((camera, index) => (isFixed(index) ? placed[0]! : camera));
  const photos = sheets.map((sheet, index) => ({
    ...takePhoto(`f${index + 1}`, sheet, cameras[index]!, truth, options, random),
    ...(isFixed(index) ? { station: 't1' } : {}),
  }));
  const survey: Survey = {
    format: 'bedplane-survey',
    version: 1,
    title: `made ${kind} ${seed}`,
    units: 'mm',
    wall: {
      width,
      height,
      side: 'internal',
      openings: (options.openings ?? []).map((rect, i) => ({ ...rect, id: `o${i + 1}`, kind: 'window' })),
      boxes: (options.boxes ?? []).map((rect, i) => ({ ...rect, id: `b${i + 1}`, kind: 'socket' })),
    },
    phones: [{ id: 'p1', name: 'site phone', lens: options.lens ?? { k1: null, sigma: 0.01 } }],
    readings: readWall(truth, width, height, options, random),
    photos,
    lining: {
      board: { width: 1200, length: 2400, thickness: 12.5 },
      bed: { min: 5, max: 20, packedMax: 40 },
    },
  };
  return { survey, truth, cameras, k1 };
}

function readWall(
  truth: WallTruth,
  width: number,
  height: number,
  options: SurveyOptions,
  random: Random,
): Reading[] {
  const noise = options.readingNoiseMm ?? 0.7;
  const places =
    options.readingPlaces ??
    [0.06, 0.5, 0.94].flatMap((x) => [0.12, 0.88].map((y) => [x * width, y * height] as const));
  return places.map(([along, up], index) => ({
    id: `r${index + 1}`,
    along,
    up,
    distance: -readHigh(truth, along, up) + noise * (options.readingErrors?.[index] ?? random.normal()),
    sigma: Math.max(noise, 0.05),
  }));
}

/** A rule's end, 20 mm wide, bears on the high spot under it and so never stands in a mortar joint. */
function readHigh(truth: WallTruth, along: number, up: number): number {
  let high = truth(along, up);
  for (const dx of [-10, 0, 10])
    for (const dy of [-10, 0, 10]) high = Math.max(high, truth(along + dx, up + dy));
  return high;
}

/** Stands about a metre to one side of the sheet, as far off as the wall needs, aimed at the middle of the line. */
function placeCamera(
  sheet: Sheet,
  width: number,
  height: number,
  lens: { readonly k1: number; readonly k2: number },
  focalRatio: number,
  random: Random,
): Camera {
  const level = sheet.axis === 'level';
  const side = sheet.at < (level ? height : width) / 2 ? 1 : -1;
  const aside = sheet.at + side * random.between(900, 1100);
  const focalPx = (focal35Mm / 36) * longPx * focalRatio;
  const offMm = 1.06 * (((sheet.to - sheet.from) * focalPx) / longPx);
  const middle = (sheet.from + sheet.to) / 2;
  const position: WallPoint = {
    along: level ? middle + random.between(-150, 150) : aside,
    up: level ? aside : middle + random.between(-150, 150),
    out: offMm + random.between(0, 150),
  };
  const target: WallPoint = level
    ? { along: middle, up: sheet.at + side * 150, out: -60 }
    : { along: sheet.at + side * 150, up: middle, out: -60 };
  return {
    position,
    rotationRad: aimRotation(position, target, random.between(-0.01, 0.01)),
    focalPx,
    ...lens,
    widthPx: level ? longPx : shortPx,
    heightPx: level ? shortPx : longPx,
  };
}

/** Rotation vector (rad) of a camera at `from` that looks at `target`, rolled by `rollRad` about its view. */
export function aimRotation(from: WallPoint, target: WallPoint, rollRad: number): [number, number, number] {
  const f = unit([target.along - from.along, target.up - from.up, target.out - from.out]);
  const flat = unit([-f[2], 0, f[0]]); // right, square to the view and level
  const drop = cross(f, flat); // down
  const [c, s] = [Math.cos(rollRad), Math.sin(rollRad)];
  const right = flat.map((x, i) => c * x + s * drop[i]!) as Vector;
  const down = cross(f, right);
  // camera-from-wall = turn * diag(1, -1, -1), frames.ts
  const turn = [right, down, f].map((row) => [row[0], -row[1], -row[2]] as Vector);
  const angle = Math.acos(Math.max(-1, Math.min(1, (turn[0]![0] + turn[1]![1] + turn[2]![2] - 1) / 2)));
  const k = angle < 1e-9 ? 0.5 : angle / (2 * Math.sin(angle));
  return [k * (turn[2]![1] - turn[1]![2]), k * (turn[0]![2] - turn[2]![0]), k * (turn[1]![0] - turn[0]![1])];
}

type Vector = [number, number, number];

function unit(v: Vector): Vector {
  const length = Math.hypot(...v);
  return [v[0] / length, v[1] / length, v[2] / length];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function takePhoto(
  id: string,
  sheet: Sheet,
  camera: Camera,
  truth: WallTruth,
  options: SurveyOptions,
  random: Random,
): Photo {
  const { standNoiseMm = 10, markNoisePx = 1 } = options;
  const level = sheet.axis === 'level';
  const marks: Mark[] = [0.03, 0.34, 0.66, 0.97].map((share) => {
    const s = Math.round(sheet.from + share * (sheet.to - sheet.from));
    const beside = sheet.at - 41;
    const [along, up] = level ? [s, beside] : [beside, s];
    const image = imageFromWall(camera, { along, up, out: truth(along, up) });
    return {
      u: image.u + markNoisePx * random.normal(),
      v: image.v + markNoisePx * random.normal(),
      along,
      up,
      sigma: Math.max(markNoisePx, 0.02),
    };
  });
  return {
    id,
    file: `photos/${id}.jpg`,
    phone: 'p1',
    stand: {
      off: camera.position.out + standNoiseMm * random.normal(),
      up: level ? camera.position.up + standNoiseMm * random.normal() : null,
      along: level ? null : camera.position.along + standNoiseMm * random.normal(),
      sigma: Math.max(standNoiseMm, 0.1),
    },
    marks,
    tapes: [{ from: 0, to: 3, axis: level ? 'along' : 'up', pitch: 10 }],
    masks: [],
    lines: [seeLine(sheet, camera, truth, options, random)],
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    focal35Mm,
  };
}

/** The line's points in the picture, one per `everyPx`, noise across the line correlated over about two points. */
function seeLine(
  sheet: Sheet,
  camera: Camera,
  truth: WallTruth,
  options: SurveyOptions,
  random: Random,
): LaserLine {
  const { lineNoisePx = 0.1, everyPx = 1 } = options;
  const level = sheet.axis === 'level';
  const stepMm = (everyPx * camera.position.out) / camera.focalPx;
  const points: LaserLine['points'][number][] = [];
  let last = random.normal();
  for (let s = sheet.from; s <= sheet.to; s += stepMm) {
    const [along, up] = level ? [s, sheet.at] : [sheet.at, s];
    const fresh = random.normal();
    const noise = lineNoisePx * Math.SQRT1_2 * (last + fresh);
    last = fresh;
    if ((options.openings ?? []).some((rect) => contains(rect, along, up))) continue;
    const box = (options.boxes ?? []).find((rect) => contains(rect, along, up));
    const image = imageFromWall(camera, { along, up, out: truth(along, up) + (box?.proud ?? 0) });
    const inside =
      image.u >= 0 && image.v >= 0 && image.u <= camera.widthPx - 1 && image.v <= camera.heightPx - 1;
    if (!inside) continue;
    points.push({
      u: level ? image.u : image.u + noise,
      v: level ? image.v + noise : image.v,
      sigma: Math.max(lineNoisePx, 0.01),
      state: 'found',
    });
  }
  const { axis, at } = sheet;
  return { id: `${level ? 'l' : 'p'}${at}`, colour: 'green', sheet: { axis, at }, points, gaps: [] };
}

function contains(rect: WallRect, along: number, up: number): boolean {
  return (
    along >= rect.along && along <= rect.along + rect.width && up >= rect.up && up <= rect.up + rect.height
  );
}
