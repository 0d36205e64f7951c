import { zoneEnds } from '../core/lining/bed.ts';
import type { NodeGrid } from '../core/lining/nodeGrid.ts';
import type { Sides } from '../core/lining/rects.ts';
import type { LiningPlan, Surface, Zone } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import { chooseBanding, drawBands, frameRing, tracePath, type Banding } from './bands.ts';
import type { WallFrame } from './frame.ts';
import { traceLevels, type AtLeast } from './isobands.ts';
import { look, type Pen } from './look.ts';
import { areaAround, type Room } from './room.ts';
import { hatchRings, openRings, type Point, type Ring } from './rings.ts';
import { label, textRoom } from './text.ts';
import { element, type SvgNode } from './tree.ts';

/** More than this many bands cannot be told apart. */
const mostBands = 9;
/** A surface less sure than this (mm, one sigma) is outlined: measure there again before fixing. */
export const unsureMm = 3;

/** The bed depth of a plan as areas of the wall: bands at round levels, and the zones by what must be done. */
export interface BedAreas {
  readonly banding: Banding;
  readonly bands: readonly AtLeast[];
  /** Where each zone lies, to be filled by the even-odd rule; empty where there is none. */
  readonly zones: Readonly<Record<Zone, readonly Ring[]>>;
  /** Outlines between zones. */
  readonly borders: readonly (readonly Point[])[];
  readonly unsure: readonly Ring[];
  readonly wall: Sides;
}

const known = (values: Float64Array) => values.filter((value) => !Number.isNaN(value));

/** Traces the bands and zones of a bed (mm at the surface's nodes) over the wall. */
export function traceBed(survey: Survey, surface: Surface, plan: LiningPlan): BedAreas {
  const { stepMm, nx, ny } = surface;
  const { wall, lining } = survey;
  const sides = { left: 0, right: wall.width, bottom: 0, top: wall.height };
  const grid = (values: Float64Array): NodeGrid => ({ stepMm, nx, ny, values });
  const trace = (values: Float64Array, levels: readonly number[]) => traceLevels(grid(values), levels, sides);
  const beds = known(plan.bed);
  const least = beds.reduce((low, bed) => Math.min(low, bed), Infinity);
  const banding = chooseBanding(least, Math.max(least, plan.maxBedMm), mostBands, survey.units);
  const ends = trace(plan.bed, zoneEnds(lining.bed));
  const [enough, overMax, overPacked] = ends.map(({ rings }) => rings) as [Ring[], Ring[], Ring[]];
  return {
    banding,
    bands: trace(plan.bed, banding.levels),
    zones: {
      thin: [frameRing(sides), ...enough],
      normal: [...enough, ...overMax],
      packed: [...overMax, ...overPacked],
      beyond: overPacked,
    },
    borders: ends.flatMap(({ rings }) => openRings(rings, sides)),
    unsure: trace(surface.sigma, [unsureMm])[0]!.rings,
    wall: sides,
  };
}

/** Spacing of hatch lines in letters' sizes, their angles and colour, for each zone that is hatched. */
export const zoneHatch = {
  thin: { spacing: 0.45, angles: [-Math.PI / 4], colour: look.signal },
  packed: { spacing: 0.75, angles: [Math.PI / 4], colour: look.pencil },
  beyond: { spacing: 0.6, angles: [Math.PI / 4, -Math.PI / 4], colour: look.signal },
} as const;

/** What is said of a zone on the wall itself. */
const zoneWords = { thin: 'too thin', packed: 'packing strips', beyond: 'too deep' } as const;

type HatchedZone = keyof typeof zoneHatch;
export const hatchedZones = Object.keys(zoneHatch) as HatchedZone[];

function listHatch(areas: BedAreas, zone: HatchedZone, frame: WallFrame, pen: Pen): [Point, Point][] {
  const { spacing, angles } = zoneHatch[zone];
  return angles.flatMap((angle) => hatchRings(areas.zones[zone], (spacing * pen.font) / frame.perMm, angle));
}

/** Bands of wash, hatched zones, lines at the round levels, and heavier lines between zones. */
export function drawBed(areas: BedAreas, frame: WallFrame, pen: Pen): SvgNode {
  const { banding, bands, borders, unsure, wall } = areas;
  const lines = bands.flatMap(({ rings }) => openRings(rings, wall));
  const open = { fill: 'none', 'stroke-linejoin': 'round' };
  const stroke = (shape: readonly (readonly Point[])[], attrs: Record<string, string | number>) =>
    shape.length === 0 ? [] : [element('path', { d: tracePath(shape, frame, false), ...open, ...attrs })];
  return element(
    'g',
    {},
    drawBands(bands, banding.colours, wall, frame),
    ...hatchedZones.flatMap((zone) =>
      stroke(listHatch(areas, zone, frame, pen), {
        stroke: zoneHatch[zone].colour,
        'stroke-width': pen.hair,
      }),
    ),
    ...stroke(lines, { stroke: look.graphite, 'stroke-width': pen.hair }),
    ...stroke(borders, { stroke: look.pencil, 'stroke-width': pen.line }),
    ...stroke(openRings(unsure, wall), {
      stroke: look.signal,
      'stroke-width': pen.line,
      'stroke-dasharray': `${pen.line} ${2 * pen.line}`,
    }),
  );
}

/** What must be done, written into each hatched zone where it is wide enough. */
export function labelZones(areas: BedAreas, frame: WallFrame, pen: Pen, room: Room): SvgNode {
  return element(
    'g',
    {},
    ...hatchedZones.flatMap((zone): SvgNode[] => {
      const text = zoneWords[zone];
      const [width, height] = [textRoom(text, pen.font) + 0.8 * pen.font, 1.4 * pen.font];
      const span = ([a, b]: [Point, Point]) => Math.hypot(b[0] - a[0], b[1] - a[1]);
      const places = listHatch(areas, zone, frame, pen)
        .filter((piece) => span(piece) * frame.perMm > height)
        .sort((a, b) => span(b) - span(a))
        .slice(0, 60)
        .map(([a, b]) => {
          const [x, y] = [frame.x((a[0] + b[0]) / 2), frame.y((a[1] + b[1]) / 2)];
          return { x, y, area: areaAround(x, y, width, height) };
        });
      const place = room.takeFirst(places);
      if (!place) return [];
      const { x, y, area } = place;
      const { colour } = zoneHatch[zone];
      return [
        element('rect', {
          x: area.left,
          y: area.top,
          width,
          height,
          fill: look.sheet,
          stroke: colour,
          'stroke-width': pen.hair,
        }),
        label(text, x, y, { size: pen.font, anchor: 'middle', fill: colour }),
      ];
    }),
  );
}
