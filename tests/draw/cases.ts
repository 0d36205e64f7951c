// The drawings we look at: one list is golden test, example and gallery.
import { fillNodes } from '../../src/core/lining/nodeGrid.ts';
import type { Residual } from '../../src/core/results.ts';
import type { Survey } from '../../src/core/survey.ts';
import { drawChances } from '../../src/draw/chances.ts';
import { drawMisfit, measureMisfit } from '../../src/draw/misfit.ts';
import { drawPlanOnPhoto, usualLayers } from '../../src/draw/onPhoto/planOnPhoto.ts';
import { drawPhonePlaces } from '../../src/draw/phonePlaces.ts';
import { drawPlan } from '../../src/draw/plan.ts';
import { drawProfile } from '../../src/draw/profile.ts';
import { drawStand } from '../../src/draw/stand.ts';
import { drawTradeOff } from '../../src/draw/tradeOff.ts';
import type { SvgNode } from '../../src/draw/tree.ts';
import { drawWhiskers, type WhiskerRow } from '../../src/draw/whiskers.ts';
import { drawWall } from '../../src/draw/wall.ts';
import { drawWallMap } from '../../src/draw/wallMap.ts';
import { boardCases } from './boardCases.ts';
import { makeAdvice, nextLevel, nextPlumb, nextReading } from './advice.ts';
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
import { photoPlan, sightOf } from './onPhoto/photoPlan.ts';
import { options, workedPlan } from './workedPlan.ts';

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
      zones: plan.zones.map(({ zone }) => ({ zone, areaM2: 4, share: 0.25, expectedM2: 4 })),
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

/** A mark that agrees, one that does not, a stand nothing checks, and a line left out far beyond the chart. */
const whiskerRows: readonly WhiskerRow[] = (
  [
    ['mark 1 along', { residualMm: 0.6, sigmaMm: 1, redundancy: 0.4, state: 'used' }],
    ['mark 2 along', { residualMm: -4.4, sigmaMm: 1, redundancy: 0.85, state: 'suspect' }],
    ['phone up', { residualMm: 0, sigmaMm: 10, redundancy: 0, state: 'used' }],
    ['line 850 mm height', { residualMm: 99.6, sigmaMm: 0.5, redundancy: 0.45, state: 'left_out' }],
  ] as const
).map(([name, some]) => ({
  name,
  residual: { ...makeResidual('line', 'l1', 1), ...some } satisfies Residual,
}));

const planOf = ({ survey, solution, plan }: DrawnWall) => ({ survey, surface: solution.surface, plan });
const note = 'version 0.1, 14 March';

export const cases: readonly DrawingCase[] = [
  ...boardCases,
  { name: 'wall-bare', draw: () => drawWall({ survey: { ...makeSurvey(), photos: [], readings: [] } }, {}) },
  { name: 'wall-half-done', draw: () => drawWall(halfDone(), { widthPx: 390, fontPx: 11 }) },
  { name: 'wall-solved', draw: () => drawWall(roughPlan(), {}) },
  { name: 'wall-strip', draw: () => drawWall(roughPlan(), { strip: true }) },
  {
    name: 'map-sigma',
    draw: () => drawWallMap({ ...roughPlan(), next: makeAdvice(nextLevel) }, 'sigma'),
  },
  {
    name: 'map-thin',
    draw: () => drawWallMap({ ...roughPlan(), next: makeAdvice(nextPlumb) }, 'thin'),
  },
  {
    name: 'map-packing-phone',
    draw: () =>
      drawWallMap({ ...roughPlan(), next: makeAdvice(nextReading) }, 'packing', { widthPx: 390, fontPx: 11 }),
  },
  {
    name: 'map-beyond-inch',
    draw: () => drawWallMap({ ...longWall(), next: makeAdvice(null) }, 'beyond'),
  },
  { name: 'plan-sheet', draw: () => drawPlan(planOf(roughPlan()), { note }) },
  { name: 'plan-sheet-large', draw: () => drawPlan(planOf(fourBoards()), { paper: 'a3', note }) },
  { name: 'plan-screen', draw: () => drawPlan(planOf(fourBoards()), { layout: 'screen' }) },
  {
    name: 'plan-phone',
    draw: () => drawPlan(planOf(roughPlan()), { layout: 'screen', widthPx: 390, fontPx: 11 }),
  },
  { name: 'plan-long', draw: () => drawPlan(planOf(longWall()), { note }) },
  { name: 'plan-worked', draw: () => drawPlan(planOf(workedPlan()), { note }) },
  {
    name: 'plan-worked-phone',
    draw: () => drawPlan(planOf(workedPlan()), { layout: 'screen', widthPx: 390, fontPx: 11 }),
  },
  {
    name: 'plan-on-photo',
    draw: () => {
      const wall = photoPlan();
      const layers = { ...usualLayers, packing: true };
      return drawPlanOnPhoto(wall, wall.photo.id, sightOf(wall), { layers, note }).node;
    },
  },
  { name: 'chances-thin', draw: () => drawChances(planOf(roughPlan()), 'thin') },
  {
    name: 'chances-packing-phone',
    draw: () => drawChances(planOf(roughPlan()), 'packing', { widthPx: 390, fontPx: 11 }),
  },
  { name: 'chances-beyond-inch', draw: () => drawChances(planOf(longWall()), 'beyond') },
  {
    name: 'trade-off-bed',
    draw: () => drawTradeOff({ options, of: 'bed', chosen: 2, units: 'mm' }),
  },
  {
    name: 'trade-off-powder-phone',
    draw: () =>
      drawTradeOff({ options, of: 'powder', chosen: null, units: 'inch' }, { widthPx: 340, fontPx: 11 }),
  },
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
    name: 'whiskers',
    draw: () => drawWhiskers(whiskerRows),
  },
  {
    name: 'whiskers-phone-inch',
    draw: () => drawWhiskers(whiskerRows, { widthPx: 340, fontPx: 11, units: 'inch' }),
  },
  {
    name: 'misfit-gap',
    draw: () => {
      const { survey, solution } = roughPlan();
      const profile = solution.profiles[3]!;
      const { stepMm, nx, ny, out } = solution.surface;
      const misfit = measureMisfit(profile, fillNodes({ stepMm, nx, ny, values: out }));
      return drawMisfit({ profile, misfit, colour: 'green', lengthMm: survey.wall.width, units: 'mm' });
    },
  },
  {
    name: 'phone-places',
    draw: () => {
      const { survey, solution } = roughPlan();
      const photos = solution.photos.map((pose, k) => ({
        ...pose,
        position: { along: 700 + 350 * k, up: k < 5 ? 1900 - 260 * k : 1500, out: 2300 + 130 * k },
      }));
      return drawPhonePlaces({ wall: survey.wall, photos, units: 'mm' });
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
