import { meetPipe, shadesPoint } from '../../samples/make/pipe.ts';
import { liesUnderTape } from '../../samples/make/tape.ts';
import { liesIn } from '../../samples/make/wall.ts';
import { imageFromWall } from '../../src/core/camera/camera.ts';
import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { TestScene } from './scenes.ts';

/** What a line falls on: nothing, the wall, a box that stands proud, the return wall at its left, a pipe. */
export const ON = { nothing: 0, wall: 1, box: 2, returnWall: 3, pipe: 4 } as const;

/**
 * The light of a laser as the camera sees it: for every column (level) or row (plumb) where its centre lies across (px,
 * NaN where there is none) and what it falls on.
 */
export interface LineLight {
  readonly centrePx: Float64Array;
  readonly on: Uint8Array;
}

const STEP_MM = 0.25;

/** Where the light of the scene's wanted laser is seen, of several surfaces in one column the nearest. */
export function trueLight(test: TestScene): LineLight {
  const { scene, camera, laser } = test;
  if (!laser) throw new Error(`expected a scene with a laser, got ${test.name}`);
  const level = laser.axis === 'level';
  const [count, across] = level ? [camera.widthPx, camera.heightPx] : [camera.heightPx, camera.widthPx];
  const centrePx = new Float64Array(count).fill(NaN);
  const on = new Uint8Array(count);
  const nearest = new Float64Array(count).fill(Infinity);
  let last = { px: NaN, across: NaN, surface: 0 as number };
  const walk = (point: WallPoint, surface: number): void => {
    const image = imageFromWall(camera, point);
    const here = { px: level ? image.u : image.v, across: level ? image.v : image.u, surface };
    const hidden =
      shadesPoint(scene.pipes ?? [], laser, point) ||
      (surface !== ON.pipe &&
        (scene.pipes ?? []).some((pipe) => meetPipe(pipe, camera.position, point) < Infinity));
    if (surface === last.surface && Math.abs(here.px - last.px) < 3) {
      const { position } = camera;
      const depth = Math.hypot(
        point.along - position.along,
        point.up - position.up,
        point.out - position.out,
      );
      const first = Math.ceil(Math.min(last.px, here.px));
      for (let i = Math.max(0, first); i <= Math.min(count - 1, Math.max(last.px, here.px)); i++) {
        if (depth >= nearest[i]!) continue;
        const share = here.px === last.px ? 0 : (i - last.px) / (here.px - last.px);
        const centre = last.across + share * (here.across - last.across);
        const seen = !hidden && surface > 0 && centre >= 0 && centre <= across - 1;
        nearest[i] = depth;
        on[i] = seen ? surface : 0;
        centrePx[i] = seen ? centre : NaN;
      }
    }
    last = here;
  };
  const { width, height, openings, boxes } = scene.wall.plan;
  for (let s = 0; s <= (level ? width : height); s += STEP_MM) {
    const [along, up] = level ? [s, laser.at] : [laser.at, s];
    const box = boxes.find((rect) => liesIn(rect, along, up));
    const covered =
      openings.some((rect) => liesIn(rect, along, up)) ||
      scene.tapes.some((strip) => liesUnderTape(strip, along, up, 2)) ||
      (box !== undefined && box.proud <= 0);
    const out = box ? scene.wall.smoothMm(along, up) + box.proud : scene.wall.outMm(along, up);
    walk({ along, up, out }, covered ? ON.nothing : box ? ON.box : ON.wall);
  }
  if (level && !scene.freeEnd)
    for (let out = scene.wall.plan.out; out < camera.position.out - 1; out += STEP_MM)
      walk({ along: 0, up: laser.at, out }, ON.returnWall);
  if (level)
    for (const pipe of scene.pipes ?? [])
      for (let angle = -Math.PI; angle <= Math.PI; angle += STEP_MM / (2 * pipe.radiusMm)) {
        const point = {
          along: pipe.along + pipe.radiusMm * Math.sin(angle),
          up: laser.at,
          out: pipe.out + pipe.radiusMm * Math.cos(angle),
        };
        const facing = meetPipe({ ...pipe, radiusMm: pipe.radiusMm - 0.01 }, camera.position, point);
        if (facing === Infinity) walk(point, ON.pipe);
      }
  return { centrePx, on };
}
