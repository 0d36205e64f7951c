import { CRITICAL_W } from '../checks/baarda.ts';
import { liesInGap, triangulateLine } from '../camera/triangulate.ts';
import { liesOnBlock } from '../camera/block.ts';
import { medianOf } from '../line/running.ts';
import { averageStretch } from '../line/stretch.ts';
import type { Warning } from '../refusal.ts';
import type { MeasuredBox } from '../results.ts';
import type { Box, Survey, Wall } from '../survey.ts';
import { placeOnGrid, type Adjustment } from './adjustment.ts';
import { solveBordered } from './bordered.ts';
import { differentiateSeenPoint, ROUGH_SPOT, type SeenPoint } from './linearize.ts';
import { liesIn, RECT_MARGIN_MM, type Network } from './network.ts';
import type { Settled } from './settle.ts';

/** Of a narrow box at least the middle half across is its face. */
const NARROW_SHARE = 0.25;
/** Fewer points than this say nothing of a box. */
const LEAST_POINTS = 5;
/** A box is told to stand otherwise than typed from this difference on (mm). */
const TOLD_MM = 1;
/** Variance of a median of normal values over that of their mean; sd over their median size. */
const MEDIAN_VARIANCE = Math.PI / 2;
const SD_OF_MEDIAN_SIZE = 1.4826;

/** Whether a place (mm) lies on a box, or so near to its edge that it may: no wall. */
export function liesOnBox({ boxes }: Pick<Wall, 'boxes'>, along: number, up: number): boolean {
  return boxes.some((box) => liesIn(box, along, up, RECT_MARGIN_MM));
}

/** Whether a place (mm) lies on a box's face for certain. */
function liesOnFace(box: Box, along: number, up: number): boolean {
  const marginMm = Math.min(RECT_MARGIN_MM, NARROW_SHARE * box.width, NARROW_SHARE * box.height);
  return liesIn(box, along, up, -marginMm);
}

/** What one line says of a box: offsets of its points over the wall (mm), the middle one of them, and the noise of their median (mm). */
interface Crossing {
  readonly proudMm: readonly number[];
  readonly middle: SeenPoint;
  readonly noiseMm: number;
}

/**
 * How far each box that a line crosses stands out of the wall: the median of the points' offsets on its face less the wall at their
 * places, which the field carries over from around. sigma holds the points' noise and scatter, the wall's roughness, and how badly
 * camera, sheet and field are known together. Boxes that no line crosses are not listed.
 * Source: DEVELOPERS.md "The whole wall"; variance of a median, Kendall & Stuart, vol. 1, 10.10 (asymptotic).
 */
export function measureBoxes({ wall }: Survey, network: Network, settled: Settled): MeasuredBox[] {
  return wall.boxes.flatMap((box): MeasuredBox[] => {
    const crossings = network.lines.flatMap((_, line) => crossBox(box, network, settled, line) ?? []);
    const all = crossings.flatMap(({ proudMm }) => proudMm);
    if (all.length === 0) return [];
    const sigmaMm = Math.sqrt(findBoxVariance(settled.adjustment, crossings, all.length));
    return [{ id: box.id, proudMm: medianOf(all), sigmaMm, count: all.length }];
  });
}

/** Variance (mm2) of the mean of what the lines say, each by its share of the `count` points: a'A^-1 a for all they have to do with. */
function findBoxVariance(
  { model, factor, field, unknowns }: Adjustment,
  crossings: readonly Crossing[],
  count: number,
): number {
  const x = new Float64Array(field.length);
  const y = new Float64Array(unknowns.length);
  let noise = 0;
  for (const { proudMm, middle, noiseMm } of crossings) {
    const share = proudMm.length / count;
    const row = placeOnGrid(model, {
      kind: 'point',
      subject: 0,
      along: middle.place.along,
      up: middle.place.up,
      field: -1,
      unknowns: middle.unknowns,
      factors: middle.outFactors,
      target: 0,
      sigma: noiseMm,
      roughness: ROUGH_SPOT,
    });
    noise += share * row.sigma ** 2;
    row.nodes.forEach((node, k) => (x[node]! += share * row.nodeFactors[k]!));
    row.unknowns.forEach((q, k) => (y[q]! += share * row.factors[k]!));
  }
  const [rightX, rightY] = [x.slice(), y.slice()];
  solveBordered(factor, x, y);
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, k) => sum + value * b[k]!, 0);
  // the wall under a box is rough alike for all lines across it, so their noise is not taken to average out
  return noise + dot(rightX, x) + dot(rightY, y);
}

/** The points of a line on a box's face, where there are enough. */
function crossBox(
  box: Box,
  network: Network,
  { state, adjustment }: Settled,
  index: number,
): Crossing | null {
  const { line, photo, station } = network.lines[index]!;
  const found = triangulateLine(state.cameras[station]!, line);
  const seen: { k: number; by: SeenPoint; proudMm: number }[] = [];
  for (let k = 0; k < found.s.length; k++) {
    if (liesInGap(line, found, k) || liesOnBlock(line, photo.blocks ?? [], found, k)) continue;
    const by = differentiateSeenPoint(network, state, index, { u: found.u[k]!, v: found.v[k]! });
    if (!by || !liesOnFace(box, by.place.along, by.place.up)) continue;
    seen.push({ k, by, proudMm: by.place.out - adjustment.offsetAt(by.place.along, by.place.up) });
  }
  if (seen.length < LEAST_POINTS) return null;
  seen.sort((a, b) => found.s[a.k]! - found.s[b.k]! || a.k - b.k);
  const proudMm = seen.map((each) => each.proudMm);
  const { by: middle } = seen[seen.length >> 1]!;
  const stretch = averageStretch(
    found,
    seen.map(({ k }) => k),
  );
  const centre = medianOf(proudMm);
  const scatterMm = SD_OF_MEDIAN_SIZE * medianOf(proudMm.map((value) => Math.abs(value - centre)));
  const pointMm = middle.outPerPx * medianOf(seen.map(({ k }) => found.sigmaPx[k]!));
  // points share their noise over some px, as the mean of a stretch does
  const meanMm = stretch.sigmaPx * middle.outPerPx * Math.max(1, scatterMm / pointMm);
  return { proudMm, middle, noiseMm: Math.sqrt(MEDIAN_VARIANCE) * meanMm };
}

/** The boxes that stand otherwise than was typed: beyond the limit of the test and by more than 1 mm. */
export function warnOfBoxes(boxes: readonly Box[], measured: readonly MeasuredBox[]): Warning[] {
  return measured.flatMap(({ id, proudMm, sigmaMm }): Warning[] => {
    const differenceMm = Math.abs(proudMm - boxes.find((box) => box.id === id)!.proud);
    const isOff = differenceMm > CRITICAL_W * sigmaMm && differenceMm > TOLD_MM;
    return isOff ? [{ code: 'box_suspect', subject: id }] : [];
  });
}
