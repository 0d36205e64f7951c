import { imageFromWall, type Camera } from '../../src/core/camera/camera.ts';
import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { Laser } from './laser.ts';
import type { Scene } from './scene.ts';
import { liesUnderTape } from './tape.ts';
import { liesIn, type TrueWall } from './wall.ts';

/**
 * The true line, one entry for every column of the picture (level) or row (plumb): where its centre lies across (px), the
 * place along the wall and the wall's offset there (mm); NaN where the line's sheet does not meet the wall in that column.
 * `visible` is 1 where the line really falls on the wall there and is in the picture.
 */
export interface LineTruth {
  readonly centrePx: Float64Array;
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly visible: Uint8Array;
}

/** The wall place at `s` along a laser's line (mm). */
export function placeOnLine(wall: TrueWall, laser: Pick<Laser, 'axis' | 'at'>, s: number): WallPoint {
  const along = laser.axis === 'level' ? s : laser.at;
  const up = laser.axis === 'level' ? laser.at : s;
  return { along, up, out: wall.outMm(along, up) };
}

/** A place on the wall (mm) that a laser can be seen on: masonry, not in an opening, on a box or under a tape. */
export function showsLine(scene: Scene, along: number, up: number): boolean {
  const { width, height, openings, boxes } = scene.wall.plan;
  return (
    along >= 0 &&
    up >= 0 &&
    along <= width &&
    up <= height &&
    ![...openings, ...boxes].some((rect) => liesIn(rect, along, up)) &&
    !scene.tapes.some((strip) => liesUnderTape(strip, along, up, 2))
  );
}

/** Where a laser's line is in the picture, from the wall's true surface through the camera. */
export function trueLinePoints(scene: Scene, camera: Camera, laser: Pick<Laser, 'axis' | 'at'>): LineTruth {
  const level = laser.axis === 'level';
  const count = level ? camera.widthPx : camera.heightPx;
  const across = level ? camera.heightPx : camera.widthPx;
  const length = level ? scene.wall.plan.width : scene.wall.plan.height;
  const centrePx = new Float64Array(count).fill(NaN);
  const s = new Float64Array(count).fill(NaN);
  const out = new Float64Array(count).fill(NaN);
  const visible = new Uint8Array(count);
  const stepMm = 0.25;
  let last = { px: NaN, across: NaN, s: NaN, out: NaN };
  for (let n = 0; n * stepMm <= length; n++) {
    const point = placeOnLine(scene.wall, laser, n * stepMm);
    const image = imageFromWall(camera, point);
    const here = {
      px: level ? image.u : image.v,
      across: level ? image.v : image.u,
      s: n * stepMm,
      out: point.out,
    };
    const first = Math.ceil(Math.min(last.px, here.px));
    for (let i = Math.max(0, first); i <= Math.min(count - 1, Math.max(last.px, here.px)); i++) {
      const share = here.px === last.px ? 0 : (i - last.px) / (here.px - last.px);
      centrePx[i] = last.across + share * (here.across - last.across);
      s[i] = last.s + share * stepMm;
      out[i] = last.out + share * (here.out - last.out);
      const place = placeOnLine(scene.wall, laser, s[i]!);
      const inside = centrePx[i]! >= 0 && centrePx[i]! <= across - 1;
      visible[i] = inside && showsLine(scene, place.along, place.up) ? 1 : 0;
    }
    last = here;
  }
  return { centrePx, s, out, visible };
}
