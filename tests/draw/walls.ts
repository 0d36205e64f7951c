// Made-up walls to draw: a survey, a surface over it and all that follows, without a photograph.
import { planLining } from '../../src/core/lining/planLining.ts';
import type { LiningPlan, Profile, Residual, Solution, Surface } from '../../src/core/results.ts';
import type { LaserLine, Photo, Survey, Wall } from '../../src/core/survey.ts';
import { solver } from '../solver.ts';

export type Unevenness = (along: number, up: number) => number;

/** A bump of `high` mm at a place of the wall, falling off over about `wide` mm. */
const bump = (along: number, up: number, high: number, wide: number): Unevenness => {
  return (x, y) => high * Math.exp(-((x - along) ** 2 + (y - up) ** 2) / (2 * wide * wide));
};

/** A masonry wall out of true: it leans, it waves, it has a few bumps and a hollow deeper than the adhesive allows. */
export const roughWall: Unevenness = (() => {
  const bumps = [
    bump(900, 700, 7, 260),
    bump(2900, 1900, 9, 330),
    bump(2500, 300, 5, 200),
    bump(600, 2000, -12, 380),
  ];
  const wave: Unevenness = (x, y) =>
    2.2 * Math.sin(x / 410) * Math.cos(y / 530) + 0.8 * Math.sin((x + 2 * y) / 170);
  return (x, y) =>
    -66 + 0.0015 * x + 0.0012 * y + wave(x, y) + bumps.reduce((sum, each) => sum + each(x, y), 0);
})();

/** The wall's surface on a grid; `sigma` grows between the lines. NaN inside openings and beyond the wall. */
export function makeSurface(wall: Wall, unevenness: Unevenness, stepMm = 25): Surface {
  const nx = Math.ceil(wall.width / stepMm) + 1;
  const ny = Math.ceil(wall.height / stepMm) + 1;
  const out = new Float64Array(nx * ny);
  const sigma = new Float64Array(nx * ny);
  for (let k = 0; k < nx * ny; k++) {
    const [along, up] = [(k % nx) * stepMm, Math.floor(k / nx) * stepMm];
    const isOpen = wall.openings.some(
      (o) => along > o.along && along < o.along + o.width && up > o.up && up < o.up + o.height,
    );
    const isWall = !isOpen && along <= wall.width && up <= wall.height;
    out[k] = isWall ? unevenness(along, up) : NaN;
    sigma[k] = isWall ? 0.6 + 0.5 * Math.abs(Math.sin(up / 160)) : NaN;
  }
  return { stepMm, nx, ny, out, sigma };
}

/** What the sample of the trade looks like: 3.6 x 2.45 m, a window, a socket, five level and three plumb lines. */
export function makeSurvey(): Survey {
  const heights = [300, 800, 1300, 1800, 2250];
  const places = [500, 1250, 2900];
  const makePhoto = (id: string, line: LaserLine): Photo => ({
    id,
    file: `photos/${id}.jpg`,
    phone: 'p1',
    stand: { off: 2500, up: 1500, along: null, sigma: 10 },
    marks: [],
    tapes: [],
    masks: [],
    lines: [line],
  });
  const points = [{ u: 10, v: 10, sigma: 0.1, state: 'found' }] as const;
  return {
    format: 'bedplane-survey',
    version: 1,
    title: 'Boathouse store, east wall',
    units: 'mm',
    wall: {
      width: 3600,
      height: 2450,
      side: 'internal',
      openings: [{ id: 'o1', kind: 'window', along: 1500, up: 900, width: 700, height: 1200 }],
      boxes: [{ id: 'b1', kind: 'socket', along: 400, up: 300, width: 80, height: 80, proud: 0 }],
    },
    phones: [{ id: 'p1', name: 'site phone', lens: { k1: null, sigma: 0.01 } }],
    readings: [
      [200, 300],
      [3400, 300],
      [200, 2200],
      [3400, 2200],
      [1300, 1250],
      [2400, 1250],
    ].map(([along, up], k) => ({
      id: `r${k + 1}`,
      along: along!,
      up: up!,
      distance: Math.round(-10 * roughWall(along!, up!)) / 10,
      sigma: 0.7,
    })),
    photos: [
      ...heights.map((at, k) =>
        makePhoto(`f${k + 1}`, { id: 'l1', colour: 'green', sheet: { axis: 'level', at }, points, gaps: [] }),
      ),
      ...places.map((at, k) =>
        makePhoto(`f${k + 6}`, { id: 'l1', colour: 'green', sheet: { axis: 'plumb', at }, points, gaps: [] }),
      ),
    ],
    lining: {
      board: { width: 1200, length: 2400, thickness: 12.5 },
      bed: { min: 5, max: 20, packedMax: 40 },
    },
  };
}

/** The profile a photographed line would give on that wall, with the gap that an opening leaves. */
function makeProfile(survey: Survey, photo: Photo, unevenness: Unevenness): Profile[] {
  return photo.lines.flatMap((line): Profile[] => {
    const { axis, at } = line.sheet;
    if (at === null || line.points.length === 0) return [];
    const length = axis === 'level' ? survey.wall.width : survey.wall.height;
    const place = (s: number) => (axis === 'level' ? ([s, at] as const) : ([at, s] as const));
    const isSeen = (s: number) => {
      const [along, up] = place(s);
      return !survey.wall.openings.some(
        (o) => along > o.along && along < o.along + o.width && up > o.up && up < o.up + o.height,
      );
    };
    const s = Float64Array.from({ length: Math.floor((length - 200) / 5) }, (_, k) => 100 + 5 * k).filter(
      isSeen,
    );
    return [
      {
        photo: photo.id,
        line: line.id,
        axis,
        atMm: at,
        s,
        out: s.map((each) => unevenness(...place(each)) + 0.3 * Math.sin(each * 1.7)),
        sigma: s.map((each) => 0.4 + 0.2 * Math.abs(Math.sin(each / 700))),
        u: s.map((each) => 200 + each),
        v: s.map(() => 1500),
      },
    ];
  });
}

/** Everything solved: the surface as it is, the profiles seen, nothing suspect but what is named. */
export function makeSolution(
  survey: Survey,
  unevenness: Unevenness,
  suspects: readonly string[] = [],
  stepMm = 25,
): Solution {
  return {
    profiles: survey.photos.flatMap((photo) => makeProfile(survey, photo, unevenness)),
    boxes: [],
    surface: makeSurface(survey.wall, unevenness, stepMm),
    phones: [{ id: 'p1', k1: -0.012, sigma: 0.0008 }],
    photos: survey.photos.map(({ id }, k) => ({
      id,
      position: { along: 1700 + k, up: 1500, out: 2500 },
      rotationRad: [0.01, -0.02, 0],
      focalPx: 3000,
      offsetSigmaMm: 0.8,
      markRmsPx: 0.7,
    })),
    residuals: survey.readings.map(({ id }) => makeResidual('reading', id, suspects.includes(id) ? 9 : 0.3)),
    fits: [],
    unevenness: { rangeMm: 900, sdMm: 8, roughMm: 0.3 },
    setbacks: [],
    warnings: [],
  };
}

/** A residual (mm) of something measured to 1.1 mm that all the others check. */
export function makeResidual(kind: 'reading' | 'line', subject: string, residualMm: number): Residual {
  const w = residualMm / 1.1;
  return {
    kind,
    subject,
    part: kind === 'reading' ? 'distance' : 'shift',
    residualMm,
    sigmaMm: 1.1,
    w,
    redundancy: 1,
    detectableMm: 4.5,
    errorMm: residualMm,
    state: Math.abs(w) > 3.29 ? 'left_out' : 'used',
  };
}

export interface DrawnWall {
  readonly survey: Survey;
  readonly solution: Solution;
  readonly plan: LiningPlan;
}

let rough: DrawnWall | undefined;

/** The rough wall with its usual survey, made once: planning it takes longest. */
export const roughPlan = (): DrawnWall => (rough ??= makeWall());

/** Survey, solution and plan of one made-up wall. */
export function makeWall(
  change: Partial<Survey> = {},
  unevenness: Unevenness = roughWall,
  stepMm = 25,
): DrawnWall {
  const survey = { ...makeSurvey(), ...change };
  const solution = makeSolution(survey, unevenness, [], stepMm);
  // what hacking off would give is no part of these drawings, and takes longest to reckon
  const lining = { ...survey.lining, settings: { hackSpotsMost: 0, ...survey.lining.settings } };
  return { survey, solution, plan: planLining({ ...survey, lining }, solution.surface, solver) };
}
