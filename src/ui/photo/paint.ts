import type { ImagePoint } from '../../core/camera/frames.ts';
import type { LaserLine, PointState } from '../../core/survey.ts';
import { spotOfPoint, type Size, type View } from './view.ts';
import type { OpenPicture } from './picture.ts';
import { trustOf, type Trust } from './trust.ts';

/** What a point is drawn as: found ones by how far they are to be trusted, the others by their state. */
type Sign = Trust | Exclude<PointState, 'found'>;

/** Colours of points by sign, read from the page's tokens. */
export type Palette = Readonly<Record<Sign | 'halo', string>>;

const TOKENS: Palette = {
  sure: '--point-found',
  fair: '--point-fair',
  poor: '--point-poor',
  moved: '--point-hand',
  added: '--point-hand',
  suspect: '--point-suspect',
  off: '--point-off',
  halo: '--point-halo',
};

/** The colours that the page gives points now. */
export function readPalette(host: Element): Palette {
  const style = getComputedStyle(host);
  const read = (name: string) => style.getPropertyValue(name).trim() || '#000';
  return Object.fromEntries(Object.entries(TOKENS).map(([key, name]) => [key, read(name)])) as Palette;
}

/** Half the side of a point's sign (css px), at least; all but sure ones grow with the picture up to twice that. */
const HALF_PX: Readonly<Record<Sign, number>> = {
  sure: 1,
  fair: 2,
  poor: 3.5,
  moved: 3.5,
  added: 3.5,
  suspect: 3,
  off: 2.5,
};
/** Points in the order they are painted: what needs a look lies on top. */
const ORDER: readonly Sign[] = ['off', 'sure', 'fair', 'poor', 'suspect', 'moved', 'added'];
/** Signs that are open, so that the line shows through them: outlined, and kept apart by as much as they are wide. */
const OPEN: readonly Sign[] = ['fair', 'poor', 'suspect', 'off'];

/** A cleared 2D context of a canvas made as large as the frame, in css px. */
export function startCanvas(canvas: HTMLCanvasElement, frame: Size): CanvasRenderingContext2D | null {
  const ratio = Math.min(3, globalThis.devicePixelRatio || 1);
  const [width, height] = [Math.round(frame.width * ratio), Math.round(frame.height * ratio)];
  if (canvas.width !== width) canvas.width = width;
  if (canvas.height !== height) canvas.height = height;
  const context = canvas.getContext('2d');
  if (!context || width === 0 || height === 0) return null;
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  context.clearRect(0, 0, frame.width, frame.height);
  return context;
}

/** Paints the part of the picture that the frame shows; single pixels show as squares once they are large. */
export function paintPicture(
  context: CanvasRenderingContext2D,
  picture: OpenPicture,
  view: View,
  frame: Size,
): void {
  const useSmall = picture.width * view.scale * (globalThis.devicePixelRatio || 1) <= picture.small.width;
  const bitmap = useSmall ? picture.small : picture.full;
  const [across, down] = [bitmap.width / picture.width, bitmap.height / picture.height];
  const left = Math.max(0, Math.floor(-view.x / view.scale));
  const top = Math.max(0, Math.floor(-view.y / view.scale));
  const right = Math.min(picture.width, Math.ceil((frame.width - view.x) / view.scale));
  const bottom = Math.min(picture.height, Math.ceil((frame.height - view.y) / view.scale));
  if (right <= left || bottom <= top) return;
  context.imageSmoothingEnabled = view.scale < 3;
  context.drawImage(
    bitmap,
    left * across,
    top * down,
    (right - left) * across,
    (bottom - top) * down,
    view.x + left * view.scale,
    view.y + top * view.scale,
    (right - left) * view.scale,
    (bottom - top) * view.scale,
  );
}

/** Paints the points of a line by trust and state, those of one left out by hand all as left out; where they lie closer than they can be told apart, every so many. */
export function paintPoints(
  context: CanvasRenderingContext2D,
  line: Pick<LaserLine, 'points' | 'leftOut'>,
  view: View,
  frame: Size,
  palette: Palette,
): void {
  const growth = Math.min(2, Math.max(1, view.scale));
  for (const state of ORDER) {
    // sure points stay small, so that the line shows through them
    const half = state === 'sure' ? HALF_PX.sure : HALF_PX[state] * growth;
    const apart = state === 'sure' ? half : 2 * half + 2;
    const path = new Path2D();
    let last = { x: -Infinity, y: -Infinity };
    for (const point of line.points) {
      if ((line.leftOut ? 'off' : signOf(point)) !== state) continue;
      const spot = spotOfPoint(view, point);
      if (spot.x < -8 || spot.y < -8 || spot.x > frame.width + 8 || spot.y > frame.height + 8) continue;
      if (Math.abs(spot.x - last.x) < apart && Math.abs(spot.y - last.y) < apart) continue;
      last = spot;
      addSign(path, state, spot.x, spot.y, half);
    }
    if (OPEN.includes(state)) {
      context.lineWidth = 3.5;
      context.strokeStyle = palette.halo;
      context.stroke(path);
      context.lineWidth = 1.75;
      context.strokeStyle = palette[state];
      context.stroke(path);
      continue;
    }
    if (state !== 'sure') {
      context.lineWidth = 3;
      context.strokeStyle = palette.halo;
      context.stroke(path);
    }
    context.fillStyle = palette[state];
    context.fill(path);
  }
}

const signOf = (point: LaserLine['points'][number]): Sign =>
  point.state === 'found' ? trustOf(point) : point.state;

/** A square for points in use (open for fair ones), a triangle for a poor one, a ring for a suspect, a cross for one left out. */
function addSign(path: Path2D, state: Sign, x: number, y: number, half: number): void {
  if (state === 'suspect') {
    path.moveTo(x + half, y);
    path.arc(x, y, half, 0, 2 * Math.PI);
  } else if (state === 'poor') {
    path.moveTo(x, y - half);
    path.lineTo(x + half, y + 0.8 * half);
    path.lineTo(x - half, y + 0.8 * half);
    path.closePath();
  } else if (state === 'off') {
    path.moveTo(x - half, y - half);
    path.lineTo(x + half, y + half);
    path.moveTo(x - half, y + half);
    path.lineTo(x + half, y - half);
  } else path.rect(x - half, y - half, 2 * half, 2 * half);
}

/** Paints the original pixels about an image point, as a magnifier of the given size (css px) shows them. */
export function paintLoupe(
  context: CanvasRenderingContext2D,
  picture: OpenPicture | null,
  lines: readonly Pick<LaserLine, 'points' | 'leftOut'>[],
  at: ImagePoint,
  scale: number,
  sizePx: number,
  palette: Palette,
): void {
  const frame = { width: sizePx, height: sizePx };
  const view = { scale, x: sizePx / 2 - (at.u + 0.5) * scale, y: sizePx / 2 - (at.v + 0.5) * scale };
  if (picture) paintPicture(context, { ...picture, small: picture.full }, view, frame);
  for (const line of lines) paintPoints(context, line, view, frame, palette);
}
