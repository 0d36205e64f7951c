// The drawings we look at: one list is golden test, example and gallery.
import type { Survey } from '../../src/core/survey.ts';
import { drawPlan } from '../../src/draw/plan.ts';
import { drawProfile } from '../../src/draw/profile.ts';
import { drawStand } from '../../src/draw/stand.ts';
import type { SvgNode } from '../../src/draw/tree.ts';
import { drawWall } from '../../src/draw/wall.ts';
import {
  makeSolution,
  makeResidual,
  makeSurvey,
  makeWall,
  roughPlan,
  roughWall,
  type DrawnWall,
  type Unevenness,
} from './walls.ts';

export interface DrawingCase {
  readonly name: string;
  readonly draw: () => SvgNode;
}

let four: DrawnWall | undefined;
/** Four boards abreast with three columns and five rows of screws: the closest that figures come. */
export const fourBoards = (): DrawnWall =>
  (four ??= makeWall({
    wall: {
      width: 3600,
      height: 2417,
      side: 'internal',
      openings: [],
      boxes: [{ id: 'b1', kind: 'switch', along: 150, up: 1100, width: 80, height: 80, proud: 0 }],
    },
    lining: { board: { width: 900, length: 2400, thickness: 12.5 }, bed: { min: 5, max: 20, packedMax: 40 } },
  }));

const gentle: Unevenness = (x, y) => -70 + 12 * Math.sin(x / 900) * Math.sin(y / 700 + 0.4);

/** A long wall in inches with a door, whose bed is too thin here, too deep there, and not well known at its right end. */
export const longWall = (): DrawnWall => {
  const made = makeWall(
    {
      title: 'Long store <north>',
      units: 'inch',
      wall: {
        width: 8410,
        height: 2600,
        side: 'party',
        openings: [
          { id: 'o1', kind: 'door', along: 2000, up: 0, width: 900, height: 2050 },
          { id: 'o2', kind: 'window', along: 5200, up: 900, width: 1800, height: 1200 },
        ],
        boxes: [{ id: 'b1', kind: 'switch', along: 1850, up: 1200, width: 80, height: 80, proud: 0 }],
      },
      readings: [],
      photos: [],
    },
    gentle,
    50,
  );
  const { survey, solution, plan } = made;
  const { surface } = solution;
  const sigma = surface.sigma.map((each, k) => (k % surface.nx > 150 ? each + 3 : each));
  return {
    survey: { ...survey, lining: { ...survey.lining, bed: { min: 5, max: 12, packedMax: 20 } } },
    solution: { ...solution, surface: { ...surface, sigma } },
    // as if the boards had to meet a door lining 3 mm further back
    plan: {
      ...plan,
      bed: plan.bed.map((bed) => bed - 3),
      zones: plan.zones.map(({ zone }) => ({ zone, areaM2: 4, share: 0.25 })),
    },
  };
};

/** A survey on the way: two lines found, one not agreeing, one height not typed, the others not looked for. */
function halfDone(): { survey: Survey; solution: DrawnWall['solution'] } {
  const survey = makeSurvey();
  const photos = survey.photos.map((photo, k) => ({
    ...photo,
    lines: photo.lines.map((line) => ({
      ...line,
      sheet: k === 4 ? { ...line.sheet, at: null } : line.sheet,
      points: k < 2 ? line.points : [],
    })),
  }));
  const made = makeSolution({ ...survey, photos }, roughWall, ['r4']);
  const bent = makeResidual('line', 'f2/l1', -6);
  return { survey: { ...survey, photos }, solution: { ...made, residuals: [...made.residuals, bent] } };
}

const planOf = ({ survey, solution, plan }: DrawnWall) => ({ survey, surface: solution.surface, plan });
const note = 'version 0.1, 14 March';

export const cases: readonly DrawingCase[] = [
  { name: 'wall-bare', draw: () => drawWall({ survey: { ...makeSurvey(), photos: [], readings: [] } }, {}) },
  { name: 'wall-half-done', draw: () => drawWall(halfDone(), { widthPx: 390, fontPx: 11 }) },
  { name: 'wall-solved', draw: () => drawWall(roughPlan(), {}) },
  { name: 'wall-strip', draw: () => drawWall(roughPlan(), { strip: true }) },
  { name: 'plan-sheet', draw: () => drawPlan(planOf(roughPlan()), { note }) },
  { name: 'plan-sheet-large', draw: () => drawPlan(planOf(fourBoards()), { paper: 'a3', note }) },
  { name: 'plan-screen', draw: () => drawPlan(planOf(fourBoards()), { layout: 'screen' }) },
  {
    name: 'plan-phone',
    draw: () => drawPlan(planOf(roughPlan()), { layout: 'screen', widthPx: 390, fontPx: 11 }),
  },
  { name: 'plan-long', draw: () => drawPlan(planOf(longWall()), { note }) },
  {
    name: 'profile-gap',
    draw: () => {
      const { survey, solution } = roughPlan();
      return drawProfile({ survey, solution, profile: solution.profiles[3]! });
    },
  },
  {
    name: 'profile-suspect',
    draw: () => {
      const { survey, solution } = halfDone();
      const profile = solution.profiles[1]!;
      const points = [40, 41, 42].map((k) => ({
        u: profile.u[k]!,
        v: profile.v[k]!,
        sigma: 0.4,
        state: 'suspect' as const,
      }));
      const photos = survey.photos.map((photo) => ({
        ...photo,
        lines: photo.lines.map((line) => (photo.id === profile.photo ? { ...line, points } : line)),
      }));
      return drawProfile(
        { survey: { ...survey, photos }, solution, profile },
        { widthPx: 390, heightPx: 220 },
      );
    },
  },
  {
    name: 'stand-level',
    draw: () =>
      drawStand({
        axis: 'level',
        atMm: 700,
        wallMm: 2450,
        stand: { offMm: 1900, placeMm: 900 },
        better: { offMm: 2600, placeMm: 1567 },
        units: 'mm',
      }),
  },
  {
    name: 'stand-plumb',
    draw: () =>
      drawStand({
        axis: 'plumb',
        atMm: 1800,
        wallMm: 3600,
        stand: { offMm: 1950, placeMm: 1150 },
        better: null,
        units: 'inch',
      }),
  },
];
