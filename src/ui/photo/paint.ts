import type { LaserLine, PointState } from '../../core/survey.ts';
import { trustOf, type Trust } from './trust.ts';
import { pointOfSpot, type Size, type View } from './view.ts';

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

/** Calls back now and whenever the page's look may have changed: reading colours for every frame would reckon styles anew each time. */
export function watchPalette(host: Element, onPalette: (palette: Palette) => void): () => void {
  const read = () => onPalette(readPalette(host));
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const contrast = matchMedia('(prefers-contrast: more)');
  const changes = new MutationObserver(read);
  changes.observe(document.documentElement, { attributes: true });
  for (const query of [dark, contrast]) query.addEventListener('change', read);
  read();
  return () => {
    changes.disconnect();
    for (const query of [dark, contrast]) query.removeEventListener('change', read);
  };
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
/** Half the side of a sign (css px) at so many css px per px of the picture: sure points stay small, so that the line shows through them. */
export function halfOfSign(sign: Sign, scale: number): number {
  return HALF_PX[sign] * (sign === 'sure' ? 1 : Math.min(2, Math.max(1, scale)));
}
/** Points in the order they are painted: what needs a look lies on top. */
const ORDER: readonly Sign[] = ['off', 'sure', 'fair', 'poor', 'suspect', 'moved', 'added'];
/** Signs that are open, so that the line shows through them: outlined, and kept apart by as much as they are wide. */
const OPEN: readonly Sign[] = ['fair', 'poor', 'suspect', 'off'];

/** Where each canvas on the page is painted aside. */
const asides = new WeakMap<HTMLCanvasElement, OffscreenCanvas>();

/**
 * Paints a canvas made as large as the frame (css px) anew. It is painted aside and handed over, for a canvas with a context for drawing
 * costs the page time in every frame in which something beside it moves.
 */
export function paintCanvas(
  canvas: HTMLCanvasElement,
  frame: Size,
  paint: (context: OffscreenCanvasRenderingContext2D) => void,
): void {
  const ratio = Math.min(3, globalThis.devicePixelRatio || 1);
  const [width, height] = [Math.round(frame.width * ratio), Math.round(frame.height * ratio)];
  if (width === 0 || height === 0) return;
  let aside = asides.get(canvas);
  if (!aside) asides.set(canvas, (aside = new OffscreenCanvas(width, height)));
  // a canvas whose picture was handed over is empty, as one is that gets another size
  if (aside.width !== width) aside.width = width;
  if (aside.height !== height) aside.height = height;
  const context = aside.getContext('2d')!;
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  paint(context);
  showBitmap(canvas, aside.transferToImageBitmap());
}

/** Gives a bitmap away to a canvas, which takes its size (px). */
export function showBitmap(canvas: HTMLCanvasElement, bitmap: ImageBitmap): void {
  if (canvas.width !== bitmap.width) canvas.width = bitmap.width;
  if (canvas.height !== bitmap.height) canvas.height = bitmap.height;
  canvas.getContext('bitmaprenderer')!.transferFromImageBitmap(bitmap);
}

/** How far a point outside a frame may lie so that its sign still reaches into it (css px). */
const REACH_PX = 8;

/** Whether a frame shows any point of a line but the one numbered `except`. */
export function showsPoints(line: Pick<LaserLine, 'points'>, view: View, frame: Size, except = -1): boolean {
  const from = pointOfSpot(view, { x: -REACH_PX, y: -REACH_PX });
  const to = pointOfSpot(view, { x: frame.width + REACH_PX, y: frame.height + REACH_PX });
  return line.points.some(
    ({ u, v }, i) => u >= from.u && u <= to.u && v >= from.v && v <= to.v && i !== except,
  );
}

/**
 * Paints the points of a line by trust and state, those of one left out by hand all as left out; where they lie closer than they can be
 * told apart, every so many. `except`: the number of a point that is painted elsewhere.
 */
export function paintPoints(
  context: OffscreenCanvasRenderingContext2D,
  line: Pick<LaserLine, 'points' | 'leftOut'>,
  view: View,
  frame: Size,
  palette: Palette,
  except = -1,
): void {
  const started = () => ({ path: new Path2D(), x: -Infinity, y: -Infinity, count: 0 });
  const drawn = Object.fromEntries(ORDER.map((sign) => [sign, started()])) as Record<
    Sign,
    ReturnType<typeof started>
  >;
  for (let i = 0; i < line.points.length; i++) {
    if (i === except) continue;
    const point = line.points[i]!;
    const x = view.x + (point.u + 0.5) * view.scale;
    const y = view.y + (point.v + 0.5) * view.scale;
    if (x < -REACH_PX || y < -REACH_PX || x > frame.width + REACH_PX || y > frame.height + REACH_PX) continue;
    const sign = line.leftOut ? 'off' : signOf(point);
    const [half, last] = [halfOfSign(sign, view.scale), drawn[sign]];
    const apart = sign === 'sure' ? half : 2 * half + 2;
    if (Math.abs(x - last.x) < apart && Math.abs(y - last.y) < apart) continue;
    last.x = x;
    last.y = y;
    last.count++;
    addSign(last.path, sign, x, y, half);
  }
  for (const state of ORDER) {
    const { path, count } = drawn[state];
    if (count === 0) continue;
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
