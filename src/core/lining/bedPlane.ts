import type { BedPlane } from '../results.ts';
import type { ProgrammeSolver } from './programme.ts';
import {
  noRemoval,
  openPlaneProgramme,
  type Goal,
  type GoalEnd,
  type Measure,
  type Removal,
} from './plane/planeProgramme.ts';
import type { WallNodes } from './plane/wallNodes.ts';
import { mayGiveWay, type PlaneWish } from './plane/wishes.ts';

/** A bed plane with the bed it leaves (mm), and what has to come off at each node for it (mm, 0 where nothing). */
export interface BedFit {
  readonly plane: BedPlane;
  readonly hackedMm: Float64Array;
  /** Mean and most of the bed of the wall as hacked. */
  readonly meanBedMm: number;
  readonly maxBedMm: number;
}

/** What is held in the next goal may be worse by so much: what the solver cannot tell apart (mm). */
const same = 1e-9;
/** A plane this near to the wall's hold is held by the wall (mm). */
const held = 1e-6;
/** Wishes that give way by less in sum are all kept (mm). */
const kept = 1e-7;

const outOf = ({ p, q, r }: BedPlane, along: number, up: number) => p + q * along + r * up;

/** What may come off at a node (mm), all spots taken. */
const removableOf = ({ covers, depthMm }: Removal, i: number) => (covers[i]?.length ? depthMm : 0);

/**
 * The plane of these slopes as far back as the nodes let it, exactly, where it is the nodes that hold it; and what it leaves. The solver
 * keeps rows to 1e-9 only.
 */
function settlePlane(nodes: WallNodes, removal: Removal, { plane: { p: about, q, r } }: GoalEnd): BedFit {
  const { out, along, up, needMm } = nodes;
  let least = -Infinity;
  for (let i = 0; i < out.length; i++)
    least = Math.max(least, out[i]! + needMm[i]! - removableOf(removal, i) - q * along[i]! - r * up[i]!);
  const plane = { p: Math.abs(about - least) <= held ? least : about, q, r };
  const hackedMm = new Float64Array(out.length);
  let sum = 0;
  let maxBedMm = -Infinity;
  for (let i = 0; i < out.length; i++) {
    const bedMm = outOf(plane, along[i]!, up[i]!) - out[i]!;
    const off = Math.min(removableOf(removal, i), Math.max(0, needMm[i]! - bedMm));
    hackedMm[i] = off > held ? off : 0;
    sum += bedMm + hackedMm[i]!;
    maxBedMm = Math.max(maxBedMm, bedMm + hackedMm[i]!);
  }
  return { plane, hackedMm, meanBedMm: sum / out.length, maxBedMm };
}

/**
 * The plane out = p + q along + r up with the least mean bed of all that keep the least bed at every node, exactly: a linear programme
 * in p, q, r. Wishes are kept as far as they can be, that is with the least sum of what they give way (mm, of turn mm per m), which comes
 * before the bed; the allowed lean and the least bed itself never give way. Masonry in the spots of `removal` comes off as far as it stands in
 * the way. Among equally good planes the one for which least comes off, then that leans least, then that turns least, so that
 * the answer does not depend on the order of the nodes. `nodes`: one or more, all finite.
 * Source: DEVELOPERS.md, "From surface to lining".
 */
export function fitBedPlane(
  nodes: WallNodes,
  wishes: readonly PlaneWish[],
  solve: ProgrammeSolver,
  removal: Removal = noRemoval,
): BedFit {
  const attain = openPlaneProgramme(nodes, wishes, removal, solve);
  const mayClash = wishes.some(({ weights }) => weights.p !== 0);
  const anyWish = mayGiveWay(wishes);
  // Where all wishes can be kept none gives way at all, not even by what the solver cannot tell from nothing.
  const least = mayClash ? attain({ least: 'missed', caps: [], mayGive: anyWish }) : null;
  const isClash = (least?.measure('missed') ?? 0) > kept;
  const mayGive = isClash ? anyWish : () => false;
  const order: Measure[] = ['mean', ...(removal.count > 0 ? (['hacked'] as const) : []), 'lean', 'turn'];
  let caps: Goal['caps'] = isClash ? [['missed', least!.measure('missed') + same]] : [];
  let best = isClash ? least : null;
  for (const measure of order) {
    const soFar = best?.measure(measure) ?? Infinity;
    // What is nothing already cannot be less.
    if (soFar === 0 && measure !== 'mean') continue;
    const end = attain({ least: measure, caps, mayGive });
    // Held to 1e-9, a later goal may gain what is no gain: the corner of the earlier ones is exact.
    if (end && (measure === 'mean' || soFar - end.measure(measure) > held)) best = end;
    if (best) caps = [...caps, [measure, best.measure(measure) + same]];
  }
  if (!best) throw new Error(`bed plane: expected an optimum over ${nodes.out.length} nodes, got none`);
  return settlePlane(nodes, removal, best);
}

/** What one wish would have to give way if it alone did; null where that would not do. `wish`: its number, after the last the least bed. */
export function giveWayAlone(
  nodes: WallNodes,
  wishes: readonly PlaneWish[],
  solve: ProgrammeSolver,
  removal: Removal,
): (number | null)[] {
  const attain = openPlaneProgramme(nodes, wishes, removal, solve);
  return Array.from({ length: wishes.length + 1 }, (_, k) => {
    const end = attain({ least: k, caps: [], mayGive: (wish) => wish === k });
    return end ? Math.max(0, end.measure(k)) : null;
  });
}
