import { wallFromImageOnSheet, type Camera } from '../camera/camera.ts';
import { alongSheet, type KnownSheet } from '../camera/sheet.ts';
import type { LinePoint, Wall, WallRect } from '../survey.ts';
import { medianOf } from './running.ts';

/**
 * The camera's place is known to some millimetres only: what lies this near to an opening may be in it, to an
 * end beyond it.
 */
const EDGE_MM = 6;
const END_MM = 5;
/**
 * A line that has turned into a reveal or round a corner hardly gets on along the wall: less than this share
 * of its usual pace.
 */
const BENT_PACE = 0.4;
const NEAR_MM = 150;
/** Pace is read over this many points to either side. */
const PACE_POINTS = 8;

/**
 * Which of a line's points (in order along it) lie neither on the wall's face nor on that of a box, seen from a known camera: in
 * an opening, at a box's edge, in an opening's reveal, on a side wall, floor or ceiling. One flag per point. What lies on a box
 * tells how far that stands out (core/solve/boxes.ts).
 */
export function findOffWall(
  points: readonly LinePoint[],
  camera: Camera,
  sheet: KnownSheet,
  wall: Wall,
): boolean[] {
  const places = points.map((point) => wallFromImageOnSheet(camera, point, sheet));
  const s = places.map((place) => alongSheet(sheet, place));
  const pace = points.map((_, i) => {
    const [a, b] = [Math.max(0, i - PACE_POINTS), Math.min(points.length - 1, i + PACE_POINTS)];
    const apart = sheet.axis === 'level' ? points[b]!.u - points[a]!.u : points[b]!.v - points[a]!.v;
    return apart > 4 * PACE_POINTS ? NaN : Math.abs(s[b]! - s[a]!) / apart;
  });
  const usual = medianOf(pace);
  const holes: readonly WallRect[] = [...wall.openings, ...wall.boxes];
  return places.map(({ along, up }, i) => {
    const inside = (rect: WallRect, by: number): boolean =>
      along > rect.along - by &&
      along < rect.along + rect.width + by &&
      up > rect.up - by &&
      up < rect.up + rect.height + by;
    const onFace = (by: number): boolean =>
      along >= by && up >= by && along <= wall.width - by && up <= wall.height - by;
    if (onFace(END_MM) && wall.boxes.some((box) => inside(box, -EDGE_MM))) return false;
    if (!onFace(END_MM) || holes.some((rect) => inside(rect, EDGE_MM))) return true;
    const bent = pace[i]! < BENT_PACE * usual;
    return bent && (!onFace(NEAR_MM) || holes.some((rect) => inside(rect, NEAR_MM)));
  });
}
