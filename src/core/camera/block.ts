import { averageStretch, type Stretch } from '../line/stretch.ts';
import type { LaserLine, Photo, StepBlock } from '../survey.ts';
import { wallFromImageOnSheet, type Camera } from './camera.ts';
import { CAMERA_PARAMETERS } from './projection.ts';
import { differentiateOffset, knownSheet, type KnownSheet } from './sheet.ts';
import { liesInGap, triangulateLine, type Triangulation } from './triangulate.ts';

/**
 * A packer as its line shows it: the points on its face and on the wall to either side, each as one mean, with the share that
 * the wall's mean takes in what the wall would be under the middle of the packer; `sigmaMm` is that of the difference: how
 * far the wall itself strays from such a guess elsewhere along the line, or the noise of the points where that is more.
 */
export interface SeenBlock {
  readonly block: StepBlock;
  readonly sheet: KnownSheet;
  readonly face: Stretch;
  readonly beside: readonly { readonly wall: Stretch; readonly share: number }[];
  readonly sigmaMm: number;
}

/** Either side of a packer's edge so much is neither face nor wall: the edge is dragged by hand, and blurred (px). */
const EDGE_PX = 4;
/** The wall is taken from the edge to so far beside it (mm). */
const REACH_MM = 60;
/** A mean of fewer points than this says nothing. */
const LEAST_POINTS = 5;
/** How far a wall strays where its line is too short to tell (mm): two points of the usual roughness; common practice. */
const USUAL_UNEVEN_MM = 0.4;
const LEAST_PLACES = 8;

const orderEnds = ({ from, to }: StepBlock) => ({ low: Math.min(from, to), high: Math.max(from, to) });

/** Whether a triangulated point of the line lies on one of its packers, or so near to the edge that it may. */
export function liesOnBlock(
  line: LaserLine,
  blocks: readonly StepBlock[],
  found: Triangulation,
  k: number,
): boolean {
  const place = line.sheet.axis === 'level' ? found.u[k]! : found.v[k]!;
  return blocks.some((block) => {
    const { low, high } = orderEnds(block);
    return block.line === line.id && place > low - EDGE_PX && place < high + EDGE_PX;
  });
}

/**
 * A packer of a photo as its line shows it from a camera. Null where the line or its height is missing, or where the packer's
 * face, or the wall to both sides of it, shows too few points.
 */
export function seeBlock(camera: Camera, photo: Photo, block: StepBlock): SeenBlock | null {
  const line = photo.lines.find(({ id }) => id === block.line);
  if (!line || line.sheet.at === null) return null;
  const found = triangulateLine(camera, line);
  const run = line.sheet.axis === 'level' ? found.u : found.v;
  const { low, high } = orderEnds(block);
  const edge = Math.min(EDGE_PX, (high - low) / 4);
  const bySpot = (a: number, b: number) => found.s[a]! - found.s[b]! || a - b;
  const face = Array.from(run.keys())
    .filter((k) => run[k]! >= low + edge && run[k]! <= high - edge)
    .sort(bySpot);
  if (face.length < LEAST_POINTS) return null;
  const ends = { from: found.s[face[0]!]!, to: found.s[face[face.length - 1]!]! };
  const wall = Array.from(run.keys())
    .filter((k) => !liesOnBlock(line, photo.blocks ?? [], found, k) && !liesInGap(line, found, k))
    .sort(bySpot);
  const places = wall.map((k) => found.s[k]!);
  const sides = takeSides(places, ends).map((side) => wall.slice(side.first, side.end));
  const shares = shareSides(
    ends,
    sides.map((side) => meanOf(side, (k) => found.s[k]!)),
  );
  if (shares.every((share) => share === 0)) return null;
  const seen = {
    block,
    sheet: knownSheet(line),
    face: averageStretch(found, face),
    beside: sides.flatMap((side, i) =>
      shares[i] === 0 ? [] : [{ wall: averageStretch(found, side), share: shares[i]! }],
    ),
    sigmaMm: measureUneven(
      places,
      wall.map((k) => found.out[k]!),
      ends.to - ends.from,
    ),
  };
  const measured = measureBlock(camera, seen);
  return measured && { ...seen, sigmaMm: Math.max(seen.sigmaMm, measured.noiseMm) };
}

/** A packer's thickness as measured from a camera (mm), the sigma that its points have by themselves, and d / d camera. */
export interface BlockThickness {
  readonly thicknessMm: number;
  readonly noiseMm: number;
  readonly byCamera: Float64Array;
}

/** The offset of a packer's face less that of the wall beside it, from a camera; null where a ray misses the sheet. */
export function measureBlock(
  camera: Camera,
  seen: Pick<SeenBlock, 'sheet' | 'face' | 'beside'>,
): BlockThickness | null {
  const byCamera = new Float64Array(CAMERA_PARAMETERS);
  let thicknessMm = 0;
  let noise = 0;
  for (const { stretch, share } of listParts(seen)) {
    const place = wallFromImageOnSheet(camera, stretch, seen.sheet);
    const by = differentiateOffset(camera, seen.sheet, place);
    if (!by) return null;
    thicknessMm += share * place.out;
    noise += (share * stretch.sigmaPx * by.outPerPx) ** 2;
    by.outByCamera.forEach((factor, k) => (byCamera[k]! += share * factor));
  }
  return { thicknessMm, noiseMm: Math.sqrt(noise), byCamera };
}

/** The means that a packer's thickness is made of, each with its share: the face and, subtracted, the wall beside it. */
export function listParts({
  face,
  beside,
}: Pick<SeenBlock, 'face' | 'beside'>): { stretch: Stretch; share: number }[] {
  return [
    { stretch: face, share: 1 },
    ...beside.map(({ wall, share }) => ({ stretch: wall, share: -share })),
  ];
}

interface Span {
  readonly first: number;
  readonly end: number;
}

/** The stretches of the wall before and after a span (mm), as ranges of indices into the rising places. */
function takeSides(places: readonly number[], { from, to }: { from: number; to: number }): Span[] {
  return [
    { first: findFirst(places, from - REACH_MM), end: findFirst(places, from) },
    { first: findFirst(places, to), end: findFirst(places, to + REACH_MM) },
  ];
}

/** Shares of the two sides that interpolate the wall at the middle of a span; a side of too few points (NaN) has none. */
function shareSides(span: { from: number; to: number }, means: readonly number[]): number[] {
  const middle = (span.from + span.to) / 2;
  const [before, after] = [middle - means[0]!, means[1]! - middle];
  if (Number.isNaN(before)) return [0, Number.isNaN(after) ? 0 : 1];
  if (Number.isNaN(after)) return [1, 0];
  return [after / (before + after), before / (before + after)];
}

/**
 * How far the wall strays from what its two sides say, over a span of so many mm: the same sum taken along the whole line,
 * as 1.4826 times the median size, which a step or two do not move.
 */
function measureUneven(places: readonly number[], out: readonly number[], widthMm: number): number {
  const sums = [0];
  const spots = [0];
  out.forEach((value, k) => {
    sums.push(sums[k]! + value);
    spots.push(spots[k]! + places[k]!);
  });
  const mean = (of: readonly number[], { first, end }: Span) =>
    end - first < LEAST_POINTS ? NaN : (of[end]! - of[first]!) / (end - first);
  const strays: number[] = [];
  const stepMm = Math.max(5, widthMm / 2);
  const last = places[places.length - 1] ?? -Infinity;
  for (let from = places[0] ?? 0; from + widthMm <= last; from += stepMm) {
    const span = { from, to: from + widthMm };
    const own = mean(sums, { first: findFirst(places, span.from), end: findFirst(places, span.to) });
    const sides = takeSides(places, span);
    if (sides.some((side) => side.end - side.first < LEAST_POINTS)) continue;
    const shares = shareSides(
      span,
      sides.map((side) => mean(spots, side)),
    );
    const guess = sides.reduce((sum, side, i) => sum + shares[i]! * mean(sums, side), 0);
    if (!Number.isNaN(own)) strays.push(Math.abs(own - guess));
  }
  if (strays.length < LEAST_PLACES) return USUAL_UNEVEN_MM;
  return 1.4826 * strays.sort((a, b) => a - b)[strays.length >> 1]!;
}

/** Index of the first place that is not below a value, in rising places. */
function findFirst(places: readonly number[], value: number): number {
  let low = 0;
  let high = places.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (places[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function meanOf(items: readonly number[], value: (item: number) => number): number {
  if (items.length < LEAST_POINTS) return NaN;
  return items.reduce((sum, item) => sum + value(item), 0) / items.length;
}
