import type { Packing, PackingStrip, StripCut } from '../../liningPlan.ts';
import type { Lining } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import type { NodeGrid } from '../nodeGrid.ts';
import type { Sides } from '../rects.ts';
import { integrateBed, measureSides, rangeBed } from './footprint.ts';

/** A strip of board under adhesive: how many layers, and how deep the adhesive is over it (mm); it runs along `axis`. */
export interface Packed {
  readonly sides: Sides;
  readonly axis: 'along' | 'up';
  readonly layers: number;
  readonly overMm: number;
}

/** A band is judged in pieces of this length (mm). */
const pieceMm = 25;

const rounding = 1e-6;

/**
 * The fewest layers of board strip, and the adhesive over them, with which the adhesive keeps within its limits over and under a strip
 * that lies parallel to the boards on a bed from `least` to `most` (mm); as much over it as under it where that can be. null = no
 * number of layers fits.
 * @example fitLayers({ least: 28, most: 32 }, 12.5, { min: 5, max: 20, packedMax: 40 }) // { layers: 1, overMm: 8.75 }
 * @example fitLayers({ least: 21, most: 22 }, 12.5, { min: 5, max: 20, packedMax: 40 }) // null
 */
export function fitLayers(
  { least, most }: { readonly least: number; readonly most: number },
  stripMm: number,
  { min, max }: Lining['bed'],
): { readonly layers: number; readonly overMm: number } | null {
  for (let layers = 1; least - layers * stripMm >= 2 * min - rounding; layers++) {
    const overLeast = Math.max(min, most - layers * stripMm - max);
    const overMost = Math.min(max, least - layers * stripMm - min);
    if (overLeast > overMost + rounding) continue;
    const half = ((least + most) / 2 - layers * stripMm) / 2;
    return { layers, overMm: Math.min(Math.max(half, overLeast), overMost) };
  }
  return null;
}

const cutPiece = (band: Sides, axis: 'along' | 'up', from: number, to: number): Sides =>
  axis === 'along' ? { ...band, left: from, right: to } : { ...band, bottom: from, top: to };

/** A strip on the stretch from `from` to `to` of a band, cut to a length in use and set in its middle; null where it is too short. */
function setStrip(
  band: Sides,
  axis: 'along' | 'up',
  [from, to]: readonly [number, number],
  ground: { readonly bed: NodeGrid; readonly limits: Lining['bed'] },
  stripMm: number,
  { packingLeastMm, packingStepMm }: LiningSettings,
): Packed | null {
  const lengthMm = Math.floor((to - from + rounding) / packingStepMm) * packingStepMm;
  if (lengthMm < packingLeastMm - rounding) return null;
  const start = from + (to - from - lengthMm) / 2;
  const sides = cutPiece(band, axis, start, start + lengthMm);
  const fit = fitLayers(rangeBed(sides, ground.bed), stripMm, ground.limits);
  return fit && { sides, axis, ...fit };
}

/**
 * Strips of board in a band of the wall that runs along `axis`, wherever its bed is over the adhesive's most and not beyond packing:
 * each as long as one number of layers keeps the adhesive over and under it within the limits.
 * Source: strips bonded on first where the bed is over 20 mm, German practice, from memory.
 */
export function packBand(
  band: Sides,
  axis: 'along' | 'up',
  ground: { readonly bed: NodeGrid; readonly limits: Lining['bed'] },
  stripMm: number,
  settings: LiningSettings,
): Packed[] {
  const { bed, limits } = ground;
  const [first, last] = axis === 'along' ? [band.left, band.right] : [band.bottom, band.top];
  const strips: Packed[] = [];
  let run: { from: number; to: number; least: number; most: number } | null = null;
  const endRun = () => {
    const strip = run && setStrip(band, axis, [run.from, run.to], ground, stripMm, settings);
    if (strip) strips.push(strip);
    run = null;
  };
  const layersOf = (range: { least: number; most: number }) => fitLayers(range, stripMm, limits)?.layers ?? 0;
  const count = Math.max(1, Math.ceil((last - first) / pieceMm - rounding));
  for (let k = 0; k < count; k++) {
    const from = first + ((last - first) * k) / count;
    const to = first + ((last - first) * (k + 1)) / count;
    const range = rangeBed(cutPiece(band, axis, from, to), bed);
    const isDeep = range.most > limits.max + rounding && range.most <= limits.packedMax + rounding;
    if (!isDeep || layersOf(range) === 0) {
      endRun();
      continue;
    }
    const joined: { least: number; most: number } = run
      ? { least: Math.min(run.least, range.least), most: Math.max(run.most, range.most) }
      : range;
    // One more layer than both parts need is no reason to go on.
    if (run && layersOf(joined) !== layersOf(run)) {
      endRun();
      run = { from, to, ...range };
    } else run = { from: run ? run.from : from, to, ...joined };
  }
  endRun();
  return strips;
}

/** The strip as the plan lists it; `footprints`: the dabs that stand on it, under which it is bonded with dabs of the same size. */
export function describeStrip(
  { sides, layers, overMm }: Packed,
  id: string,
  board: string,
  footprints: readonly Sides[],
  bed: NodeGrid,
  stripMm: number,
): PackingStrip {
  const bedMm = integrateBed(sides, bed) / measureSides(sides);
  const filledMm = layers * stripMm + overMm;
  const underMm3 = footprints.reduce(
    (sum, each) => sum + integrateBed(each, bed) - filledMm * measureSides(each),
    0,
  );
  return {
    id,
    board,
    along: sides.left,
    up: sides.bottom,
    width: sides.right - sides.left,
    height: sides.top - sides.bottom,
    layers,
    bedMm,
    underMm: bedMm - filledMm,
    overMm,
    volumeL: underMm3 / 1e6,
  };
}

/** The pieces that packing strips are cut in, one for each layer: by width and length, the longest first. */
export function listStripCuts(strips: Packing['strips']): StripCut[] {
  const cuts = new Map<string, StripCut>();
  for (const { width, height, layers } of strips) {
    const round = (mm: number) => Math.round(10 * mm) / 10;
    const [widthMm, lengthMm] = [round(Math.min(width, height)), round(Math.max(width, height))];
    const key = `${widthMm} ${lengthMm}`;
    cuts.set(key, { widthMm, lengthMm, count: (cuts.get(key)?.count ?? 0) + layers });
  }
  return [...cuts.values()].sort((a, b) => b.lengthMm - a.lengthMm || b.widthMm - a.widthMm);
}
