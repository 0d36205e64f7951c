import { zoneEnds } from '../lining/bed.ts';
import { locateOnGrid, type Grid } from '../solve/grid.ts';
import { ROUGH_ANYWHERE } from '../solve/linearize.ts';
import type { Surface } from '../results.ts';
import type { Lining, Wall } from '../survey.ts';
import { expectDoubt, findDoubt, type ZoneEnds } from './doubt.ts';
import { measureNodeAreas } from './nodeAreas.ts';

/** The spots of a surface that the bed decision is weighed at, with the grid nodes that the joint wall knows them by. */
export interface Spots {
  readonly count: number;
  readonly bed: Float64Array;
  readonly sigma: Float64Array;
  readonly doubt: Float64Array;
  readonly areaM2: Float64Array;
  /** Four nodes each and their shares. */
  readonly nodes: Int32Array;
  readonly shares: Float64Array;
  /** sd of the roughness that no measurement elsewhere lowers (mm). */
  readonly roughMm: number;
  readonly ends: ZoneEnds;
}

/** Every `stride`th node of the surface that is wall (the others' area given to the nearest), `bed` and sigma in mm. */
export function gatherSpots(
  surface: Surface,
  bed: Float64Array,
  wall: Wall,
  limits: Lining['bed'],
  roughMm: number,
  grid: Grid,
  stride = 1,
): Spots {
  const { nx, ny, stepMm, sigma } = surface;
  const areas = measureNodeAreas(surface, wall);
  const nearest = (index: number, most: number) =>
    Math.min(Math.round(index / stride), Math.floor(most / stride)) * stride;
  const slots = new Int32Array(nx * ny).fill(-1);
  const at: number[] = [];
  const areaM2: number[] = [];
  areas.forEach((area, k) => {
    if (area === 0) return;
    const node = nearest(Math.floor(k / nx), ny - 1) * nx + nearest(k % nx, nx - 1);
    if (!(sigma[node]! >= 0) || Number.isNaN(bed[node]!)) return;
    if (slots[node]! < 0) {
      slots[node] = at.push(node) - 1;
      areaM2.push(0);
    }
    areaM2[slots[node]!]! += area;
  });
  const ends = zoneEnds(limits);
  const nodes = new Int32Array(4 * at.length);
  const shares = new Float64Array(4 * at.length);
  at.forEach((node, k) => {
    const place = locateOnGrid(grid, (node % nx) * stepMm, Math.floor(node / nx) * stepMm);
    nodes.set(place.nodes, 4 * k);
    shares.set(place.weights, 4 * k);
  });
  return {
    count: at.length,
    bed: Float64Array.from(at, (node) => bed[node]!),
    sigma: Float64Array.from(at, (node) => sigma[node]!),
    doubt: Float64Array.from(at, (node) => findDoubt(bed[node]!, sigma[node]!, ends)),
    areaM2: Float64Array.from(areaM2),
    nodes,
    shares,
    roughMm: ROUGH_ANYWHERE * roughMm,
    ends,
  };
}

/** What is known of the whole of some spots: doubtful area and root mean square of sigma. */
export interface Standing {
  readonly doubtfulM2: number;
  readonly sigmaRmsMm: number;
}

/** Doubts under this are none, and a variance left at more than this share of itself is taken as not lowered. */
const LEAST_DOUBT = 1e-4;
const UNCHANGED = 0.999;

/** How the spots stand now. */
export function weighSpots({ count, areaM2, doubt, sigma }: Spots): Standing & { readonly linedM2: number } {
  let [linedM2, doubtfulM2, squares] = [0, 0, 0];
  for (let k = 0; k < count; k++) {
    linedM2 += areaM2[k]!;
    doubtfulM2 += areaM2[k]! * doubt[k]!;
    squares += areaM2[k]! * sigma[k]! ** 2;
  }
  return { linedM2, doubtfulM2, sigmaRmsMm: Math.sqrt(squares / linedM2) };
}

/** How the spots are expected to stand once the variance at each node of the joint wall is `left` of what it was. */
export function expectSpots(spots: Spots, left: Float64Array): Standing {
  const { count, areaM2, doubt, sigma, bed, nodes, shares, roughMm, ends } = spots;
  let [linedM2, doubtfulM2, squares] = [0, 0, 0];
  for (let k = 0; k < count; k++) {
    const area = areaM2[k]!;
    let share = 0;
    for (let c = 4 * k; c < 4 * k + 4; c++) share += shares[c]! * left[nodes[c]!]!;
    share = Math.min(1, Math.max(0, share));
    const rough = Math.min(roughMm ** 2, sigma[k]! ** 2);
    const square = rough + share * (sigma[k]! ** 2 - rough);
    linedM2 += area;
    squares += area * square;
    const changed = share < UNCHANGED && doubt[k]! > LEAST_DOUBT;
    doubtfulM2 += area * (changed ? expectDoubt(bed[k]!, sigma[k]!, Math.sqrt(square), ends) : doubt[k]!);
  }
  return { doubtfulM2, sigmaRmsMm: Math.sqrt(squares / linedM2) };
}
