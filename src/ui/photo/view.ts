import type { ImagePoint } from '../../core/camera/frames.ts';

/** How the picture lies in its frame: css px per picture px, and where the picture's upper left corner is (css px). */
export interface View {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

/** A place in the frame, css px from its upper left corner. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Nearest that one can look: css px per picture px. */
export const NEAREST_SCALE = 16;

/** The view that shows the whole picture (px) in its frame (css px). @example fitView({ width: 100, height: 50 }, { width: 50, height: 50 }) // { scale: 0.5, x: 0, y: 12.5 } */
export function fitView(picture: Size, frame: Size): View {
  const scale = Math.min(frame.width / picture.width, frame.height / picture.height);
  return {
    scale,
    x: (frame.width - picture.width * scale) / 2,
    y: (frame.height - picture.height * scale) / 2,
  };
}

/** The middle of a frame. @example frameMiddle({ width: 40, height: 10 }) // { x: 20, y: 5 } */
export function frameMiddle({ width, height }: Size): Spot {
  return { x: width / 2, y: height / 2 };
}

/** Where an image point (pixel centres at whole numbers) is in the frame. @example spotOfPoint({ scale: 2, x: 10, y: 0 }, { u: 1, v: 0 }) // { x: 13, y: 1 } */
export function spotOfPoint(view: View, point: ImagePoint): Spot {
  return { x: view.x + (point.u + 0.5) * view.scale, y: view.y + (point.v + 0.5) * view.scale };
}

/** The image point under a place in the frame, the inverse of `spotOfPoint`. @example pointOfSpot({ scale: 2, x: 10, y: 0 }, { x: 13, y: 1 }) // { u: 1, v: 0 } */
export function pointOfSpot(view: View, spot: Spot): ImagePoint {
  return { u: (spot.x - view.x) / view.scale - 0.5, v: (spot.y - view.y) / view.scale - 0.5 };
}

/** The view moved as little as needed for the picture to fill the frame, or to lie in its middle where it is smaller. */
export function clampView(view: View, picture: Size, frame: Size): View {
  const hold = (at: number, length: number, room: number) =>
    length <= room ? (room - length) / 2 : Math.min(0, Math.max(room - length, at));
  return {
    scale: view.scale,
    x: hold(view.x, picture.width * view.scale, frame.width),
    y: hold(view.y, picture.height * view.scale, frame.height),
  };
}

/** The view shifted by css px. */
export function shiftView(view: View, by: Spot, picture: Size, frame: Size): View {
  return clampView({ ...view, x: view.x + by.x, y: view.y + by.y }, picture, frame);
}

/**
 * The view nearer by `factor`, the image point under `at` brought to `to`, as far as the edges allow: a wheel keeps it where
 * it is, two fingers take it along.
 */
export function zoomView(
  view: View,
  at: Spot,
  factor: number,
  picture: Size,
  frame: Size,
  to: Spot = at,
): View {
  const least = Math.min(NEAREST_SCALE, fitView(picture, frame).scale);
  const scale = Math.min(NEAREST_SCALE, Math.max(least, view.scale * factor));
  const ratio = scale / view.scale;
  const moved = { scale, x: to.x - (at.x - view.x) * ratio, y: to.y - (at.y - view.y) * ratio };
  return clampView(moved, picture, frame);
}

/** The view with an image point in the middle of the frame, no further away than `leastScale`. */
export function centreView(
  view: View,
  point: ImagePoint,
  leastScale: number,
  picture: Size,
  frame: Size,
): View {
  const scale = Math.min(NEAREST_SCALE, Math.max(view.scale, leastScale));
  const moved = {
    scale,
    x: frame.width / 2 - (point.u + 0.5) * scale,
    y: frame.height / 2 - (point.v + 0.5) * scale,
  };
  return clampView(moved, picture, frame);
}

/** The view with an image point brought inside the frame by at least `marginPx` (css px); the same view where it is. */
export function revealPoint(
  view: View,
  point: ImagePoint,
  marginPx: number,
  picture: Size,
  frame: Size,
): View {
  const { x, y } = spotOfPoint(view, point);
  const inside = (at: number, room: number) => at >= marginPx && at <= room - marginPx;
  return inside(x, frame.width) && inside(y, frame.height)
    ? view
    : centreView(view, point, view.scale, picture, frame);
}

/** The image point moved into the picture. */
export function clampPoint(point: ImagePoint, picture: Size): ImagePoint {
  return {
    u: Math.min(picture.width - 1, Math.max(0, point.u)),
    v: Math.min(picture.height - 1, Math.max(0, point.v)),
  };
}
