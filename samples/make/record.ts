import { imageFromWall } from '../../src/core/camera/camera.ts';
import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { Mark, Photo, Reading, Survey } from '../../src/core/survey.ts';
import { dairyWall, K1, SEED, type Shot } from './dairy.ts';
import { placeOnLine, showsLine } from './lineTruth.ts';
import { seedRandom, type Random } from './random.ts';
import { TAPE_OFF_MM, type TapeStrip } from './tape.ts';
import { liesIn } from './wall.ts';

// What the installer writes down at the wall, with an installer's errors, and what the wall truly is.

const READING_SIGMA_MM = 0.7;
const STAND_ERROR_MM = 8;
const STAND_SIGMA_MM = 10;
const MARK_SIGMA_PX = 1;
const LINE_STEP_MM = 10;
const GRID_STEP_MM = 25;

const readingPlaces: readonly (readonly [number, number])[] = [
  [180, 320],
  [260, 1980],
  [1150, 1010],
  [2420, 1080],
  [3430, 300],
  [3380, 2060],
];

const roundTo = (value: number, step: number) => Number((Math.round(value / step) * step).toFixed(6));

/**
 * The sample's survey file (DEVELOPERS.md, "The survey file"): lines named but not yet looked for. Another `seed` makes
 * another installer's errors at the same wall.
 */
export function writeSurvey(shots: readonly Shot[], seed = SEED * 10 + 1): Survey {
  const { width, height, openings, boxes } = dairyWall.plan;
  const random = seedRandom(seed);
  return {
    format: 'bedplane-survey',
    version: 1,
    title: 'Old dairy workshop, north wall',
    units: 'mm',
    wall: { width, height, side: 'internal', openings, boxes },
    phones: [{ id: 'p1', name: 'site phone', lens: { k1: null, sigma: 0.01 } }],
    readings: readingPlaces.map(([along, up], i) => readWall(i, along, up, random)),
    photos: shots.map((shot) => notePhoto(shot, random)),
    lining: {
      board: { width: 1200, length: 2400, thickness: 12.5 },
      bed: { min: 5, max: 20, packedMax: 40 },
    },
  };
}

function readWall(index: number, along: number, up: number, random: Random): Reading {
  const distance = -dairyWall.outMm(along, up) + READING_SIGMA_MM * random.normal();
  return { id: `r${index + 1}`, along, up, distance: roundTo(distance, 0.5), sigma: READING_SIGMA_MM };
}

function notePhoto(shot: Shot, random: Random): Photo {
  const { laser, camera } = shot;
  const level = laser.axis === 'level';
  const measure = (value: number) => Math.round(value + STAND_ERROR_MM * random.normal());
  const off = measure(camera.position.out);
  const beside = measure(level ? camera.position.up : camera.position.along);
  const marks = listMarkPlaces(shot).map((place) => clickMark(shot, place, random));
  const lastOnTape = shot.tapeReadings.length - 1;
  const lastOnRule = lastOnTape + shot.ruleReadings.length;
  return {
    id: shot.id,
    file: `photos/${shot.id}.jpg`,
    phone: 'p1',
    stand: { off, up: level ? beside : null, along: level ? null : beside, sigma: STAND_SIGMA_MM },
    marks,
    tapes: [
      { from: 0, to: lastOnTape, axis: shot.tape.axis, pitch: 10 },
      { from: lastOnTape + 1, to: lastOnRule, axis: shot.rule.axis, pitch: 10 },
    ],
    masks: [],
    lines: [
      {
        id: shot.line,
        colour: laser.colour,
        sheet: { axis: laser.axis, at: laser.at },
        points: [],
        gaps: [],
      },
    ],
  };
}

/** Places in the wall's frame (mm) of a photograph's marks: on the tape, on the rule, corners of the window. */
export function listMarkPlaces(shot: Shot): WallPoint[] {
  return [
    ...shot.tapeReadings.map((s) => placeOnTape(shot.tape, s)),
    ...shot.ruleReadings.map((s) => placeOnTape(shot.rule, s)),
    ...shot.corners.map(([along, up]) => ({ along, up, out: dairyWall.smoothMm(along, up) })),
  ];
}

function placeOnTape(strip: TapeStrip, s: number): WallPoint {
  const along = strip.axis === 'along' ? strip.zero + s : strip.edge;
  const up = strip.axis === 'along' ? strip.edge : strip.zero + s;
  return { along, up, out: dairyWall.smoothMm(along, up) + TAPE_OFF_MM };
}

function clickMark(shot: Shot, place: WallPoint, random: Random): Mark {
  const image = imageFromWall(shot.camera, place);
  const click = (value: number) => roundTo(value + MARK_SIGMA_PX * random.normal(), 0.1);
  return { u: click(image.u), v: click(image.v), along: place.along, up: place.up, sigma: MARK_SIGMA_PX };
}

/** The truth beside the sample: the wall on a grid, the lens, the cameras, and the wall along every line. */
export interface Expected {
  readonly stepMm: number;
  readonly nx: number;
  readonly ny: number;
  /** Wall offset, row by row from the floor, mm; null in openings. */
  readonly out: readonly (number | null)[];
  readonly k1: number;
  readonly cameras: readonly {
    readonly photo: string;
    readonly position: readonly [number, number, number];
    readonly rotationRad: readonly number[];
    readonly focalPx: number;
  }[];
  /** Wall offset under the line at every `stepMm` along it from 0; `visible` 0 where no line falls on the wall. */
  readonly lines: readonly {
    readonly photo: string;
    readonly line: string;
    readonly stepMm: number;
    readonly out: readonly number[];
    readonly visible: string;
  }[];
}

/** Writes down the truth, mm to a hundredth. */
export function writeExpected(shots: readonly Shot[]): Expected {
  const { width, height, openings } = dairyWall.plan;
  const nx = Math.floor(width / GRID_STEP_MM) + 1;
  const ny = Math.floor(height / GRID_STEP_MM) + 1;
  const out = Array.from({ length: nx * ny }, (_, i) => {
    const along = (i % nx) * GRID_STEP_MM;
    const up = Math.floor(i / nx) * GRID_STEP_MM;
    return openings.some((rect) => liesIn(rect, along, up))
      ? null
      : roundTo(dairyWall.outMm(along, up), 0.01);
  });
  return {
    stepMm: GRID_STEP_MM,
    nx,
    ny,
    out,
    k1: K1,
    cameras: shots.map(({ id, camera }) => ({
      photo: id,
      position: [camera.position.along, camera.position.up, camera.position.out],
      rotationRad: camera.rotationRad,
      focalPx: camera.focalPx,
    })),
    lines: shots.map((shot) => traceLine(shot)),
  };
}

function traceLine(shot: Shot): Expected['lines'][number] {
  const { width, height } = dairyWall.plan;
  const length = shot.laser.axis === 'level' ? width : height;
  const places = Array.from({ length: Math.floor(length / LINE_STEP_MM) + 1 }, (_, i) =>
    placeOnLine(dairyWall, shot.laser, i * LINE_STEP_MM),
  );
  return {
    photo: shot.id,
    line: shot.line,
    stepMm: LINE_STEP_MM,
    out: places.map((place) => roundTo(place.out, 0.01)),
    visible: places.map((place) => (showsLine(shot.scene, place.along, place.up) ? '1' : '0')).join(''),
  };
}
