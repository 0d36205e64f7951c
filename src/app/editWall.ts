import type { Box, Opening, Survey, Wall, WallRect, WallSpot } from '../core/survey.ts';
import { freeId } from './newSurvey.ts';
import { listThings, type Thing } from './wallThings.ts';
import { presentFields } from './fields.ts';

/** Places (mm) along one axis that a moved thing is drawn to: its edges to `edges`, its middle to `middles`. */
export interface Ticks {
  readonly edges: readonly number[];
  readonly middles: readonly number[];
}

/** What helps a hand that drags: steps, and places that it is drawn to from `reachMm` away. */
export interface Aids {
  /** What is not drawn to a place stands at multiples of this (mm); 0 = wherever it is put. */
  readonly stepMm: number;
  readonly reachMm: number;
  /** A hand that moved less than this along an axis has not moved along it. */
  readonly stillMm: number;
  readonly along: Ticks;
  readonly up: Ticks;
}

const noTicks: Ticks = { edges: [], middles: [] };

/** No help: to the mm, as keys and typed figures move things. */
export const noAids: Aids = { stepMm: 0, reachMm: 0, stillMm: 0, along: noTicks, up: noTicks };

/** A rectangle put elsewhere, and the places (mm) of the ticks that drew it. */
export interface Placed {
  readonly rect: WallRect;
  readonly guides: { readonly along: number | null; readonly up: number | null };
}

/** Which edges of a rectangle are held: -1 the left or lower, 1 the right or upper, 0 none. */
export interface Handle {
  readonly along: -1 | 0 | 1;
  readonly up: -1 | 0 | 1;
}

/** A side of an opening or box is never made shorter than this by hand (mm); own choice. */
const LEAST_SIDE_MM = 10;

/** Without the last digits of a sum of steps. */
const tidy = (lengthMm: number) => Math.round(lengthMm * 1000) / 1000;

/**
 * What a thing can be drawn to: an opening or box to the ends of the wall, its middle and its fellows; a reading to the lines and the
 * other readings. What was measured does not draw what was built.
 */
export function listTicks(survey: Survey, own: Pick<Thing, 'key' | 'kind'>): { along: Ticks; up: Ticks } {
  const { wall } = survey;
  const isReading = own.kind === 'reading';
  const others = listThings(survey, isReading ? ['reading', 'line'] : ['opening', 'box']).filter(
    ({ key }) => key !== own.key,
  );
  const ticksAlong = (axis: 'along' | 'up', side: 'width' | 'height'): Ticks => {
    const rects = others.filter(({ moves }) => moves === 'both' || moves === axis).map(({ rect }) => rect);
    const starts = rects.map((rect) => rect[axis]);
    if (isReading) return { edges: starts, middles: [] };
    return {
      edges: [0, wall[side], ...rects.flatMap((rect) => [rect[axis], rect[axis] + rect[side]])],
      middles: [wall[side] / 2, ...rects.map((rect) => rect[axis] + rect[side] / 2)],
    };
  };
  return { along: ticksAlong('along', 'width'), up: ticksAlong('up', 'height') };
}

interface Slid {
  readonly at: number;
  readonly guide: number | null;
}

/** The nearest pull of some points to their ticks, within reach; null when none is. */
function nearestPull(
  pairs: readonly (readonly [point: number, ticks: readonly number[]])[],
  reachMm: number,
) {
  let best: { by: number; tick: number } | null = null;
  for (const [point, ticks] of pairs)
    for (const tick of ticks) {
      const by = tick - point;
      if (Math.abs(by) <= (best ? Math.abs(best.by) - 1e-9 : reachMm)) best = { by, tick };
    }
  return best;
}

const toStep = (at: number, stepMm: number) => (stepMm > 0 ? Math.round(at / stepMm) * stepMm : at);
const within = (value: number, least: number, most: number) => Math.max(least, Math.min(most, value));

/** The start of a stretch of wall slid along one axis; its middle stays on the wall. */
function slide(from: number, size: number, by: number, ticks: Ticks, aids: Aids, limit: number): Slid {
  if (by === 0 || Math.abs(by) < aids.stillMm) return { at: from, guide: null };
  const want = from + by;
  const pull =
    aids.reachMm > 0
      ? nearestPull(
          [
            [want, ticks.edges],
            [want + size, ticks.edges],
            [want + size / 2, ticks.middles],
          ],
          aids.reachMm,
        )
      : null;
  const at = pull ? want + pull.by : toStep(want, aids.stepMm);
  const kept = within(at, -size / 2, limit - size / 2);
  return { at: tidy(kept), guide: pull && kept === at ? pull.tick : null };
}

/**
 * A rectangle moved by (along, up) mm, with what helps the hand. It keeps its size; its middle stays on the wall, so that it can always be
 * taken hold of again.
 * @example moveRect({ along: 100, up: 0, width: 80, height: 80 }, { along: 13, up: 0 }, noAids, { width: 3600, height: 2450 }).rect.along // 113
 */
export function moveRect(
  rect: WallRect,
  by: WallSpot,
  aids: Aids,
  wall: Pick<Wall, 'width' | 'height'>,
): Placed {
  const along = slide(rect.along, rect.width, by.along, aids.along, aids, wall.width);
  const up = slide(rect.up, rect.height, by.up, aids.up, aids, wall.height);
  return {
    rect: { ...rect, along: along.at, up: up.at },
    guides: { along: along.guide, up: up.guide },
  };
}

interface Stretched {
  readonly from: number;
  readonly size: number;
  readonly guide: number | null;
}

/** A stretch of wall with one end moved along its axis; it keeps a length, and does not leave the wall where it had not. */
function stretch(
  from: number,
  size: number,
  side: -1 | 0 | 1,
  by: number,
  ticks: Ticks,
  aids: Aids,
  limit: number,
): Stretched {
  if (side === 0 || by === 0 || Math.abs(by) < aids.stillMm) return { from, size, guide: null };
  const end = side < 0 ? from : from + size;
  const other = side < 0 ? from + size : from;
  const want = end + by;
  const pull =
    aids.reachMm > 0 ? nearestPull([[want, [...ticks.edges, ...ticks.middles]]], aids.reachMm) : null;
  const least = Math.min(LEAST_SIDE_MM, size);
  const put = pull ? pull.tick : toStep(want, aids.stepMm);
  const onWall = within(put, Math.min(0, end), Math.max(limit, end));
  const kept = side < 0 ? Math.min(onWall, other - least) : Math.max(onWall, other + least);
  const at = tidy(kept);
  return {
    from: side < 0 ? at : from,
    size: side < 0 ? tidy(other - at) : tidy(at - from),
    guide: pull && kept === put ? pull.tick : null,
  };
}

/**
 * A rectangle with the held edges moved by (along, up) mm, with what helps the hand. Edges that are not held stay; sides stay positive.
 * @example sizeRect({ along: 100, up: 0, width: 80, height: 80 }, { along: 1, up: 0 }, { along: 20, up: 9 }, noAids, { width: 3600, height: 2450 }).rect.width // 100
 */
export function sizeRect(
  rect: WallRect,
  handle: Handle,
  by: WallSpot,
  aids: Aids,
  wall: Pick<Wall, 'width' | 'height'>,
): Placed {
  const along = stretch(rect.along, rect.width, handle.along, by.along, aids.along, aids, wall.width);
  const up = stretch(rect.up, rect.height, handle.up, by.up, aids.up, aids, wall.height);
  return {
    rect: { ...rect, along: along.from, width: along.size, up: up.from, height: up.size },
    guides: { along: along.guide, up: up.guide },
  };
}

/** An opening that stands on the floor and is taller than this (mm) is taken for a door: common practice, no source. */
const DOOR_LEAST_MM = 1700;

/** The survey with one more opening, and its key; without `rect` a usual window is put on the wall. */
export function addOpening(
  survey: Survey,
  rect?: WallRect,
): { readonly survey: Survey; readonly key: string } {
  const { wall } = survey;
  const isDoor = rect !== undefined && rect.up <= 20 && rect.height >= DOOR_LEAST_MM;
  const opening: Opening = {
    id: freeId('o', wall.openings),
    kind: isDoor ? 'door' : 'window',
    along: Math.round(wall.width * 0.4),
    up: Math.min(900, Math.round(wall.height * 0.4)),
    width: Math.min(900, Math.round(wall.width * 0.3)),
    height: Math.min(1200, Math.round(wall.height * 0.4)),
    ...rect,
  };
  return {
    survey: { ...survey, wall: { ...wall, openings: [...wall.openings, opening] } },
    key: `opening ${opening.id}`,
  };
}

/** The survey with one more box, a usual socket, and its key. */
export function addBox(survey: Survey): { readonly survey: Survey; readonly key: string } {
  const { wall } = survey;
  const box: Box = {
    id: freeId('b', wall.boxes),
    kind: 'socket',
    along: Math.min(400, Math.round(wall.width * 0.2)),
    up: 300,
    width: 80,
    height: 80,
    proud: 0,
  };
  return { survey: { ...survey, wall: { ...wall, boxes: [...wall.boxes, box] } }, key: `box ${box.id}` };
}

/** The survey with what an opening or box is, or how deep it is, changed in part; `undefined` takes a figure away. */
export function setRectPart(
  survey: Survey,
  { kind, id }: Pick<Thing, 'kind' | 'id'>,
  part: { readonly kind?: string; readonly reveal?: number | undefined; readonly proud?: number },
): Survey {
  const { wall } = survey;
  const change = <T extends Opening | Box>(items: readonly T[]): T[] =>
    items.map((item) => (item.id === id ? (presentFields({ ...item, ...part }) as T) : item));
  if (kind === 'opening') return { ...survey, wall: { ...wall, openings: change(wall.openings) } };
  return kind === 'box' ? { ...survey, wall: { ...wall, boxes: change(wall.boxes) } } : survey;
}
