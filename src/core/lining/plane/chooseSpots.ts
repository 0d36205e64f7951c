import type { WallSpot } from '../../survey.ts';
import type { ProgrammeSolver } from '../programme.ts';
import { openPlaneProgramme, type Measure, type PlaneProgramme, type Removal } from './planeProgramme.ts';
import type { WallNodes } from './wallNodes.ts';
import { mayGiveWay, type PlaneWish } from './wishes.ts';

/** The best choice of spots to hack off, by their numbers, and whether that was proven. */
export interface SpotChoice {
  readonly chosen: readonly number[];
  readonly proven: boolean;
}

/** Choices that differ by less are equally good (mm of mean bed). */
const alike = 1e-6;
/** The bounds on what comes off are found anew when the best known mean bed has fallen by so much (mm). */
const worthBounding = 0.5;

/**
 * No more than this comes off at each node (mm) for any plane that is no worse than `worth`: bounds of the plane at the middle of each
 * spot and of its slopes, with all spots hacked off. They make the search short.
 */
function boundRemoval(
  nodes: WallNodes,
  middles: readonly WallSpot[],
  removal: Removal,
  attain: PlaneProgramme,
  worth: number,
  mayGive: (wish: number) => boolean,
): Float64Array {
  const caps = [['worth', worth + alike]] as const;
  const findLeast = (least: Measure) => attain({ least, caps, mayGive })?.bound ?? -Infinity;
  const slopeRange = (q: number, r: number) =>
    [findLeast({ p: 0, q, r }), -findLeast({ p: 0, q: -q, r: -r })] as const;
  const [qLeast, qMost] = slopeRange(1, 0);
  const [rLeast, rMost] = slopeRange(0, 1);
  const lows = middles.map(({ along, up }) => findLeast({ p: 1, q: along, r: up }));
  const baseMm = nodes.out.reduce((sum, out) => sum + out, 0) / nodes.out.length;
  return nodes.out.map((out, i) =>
    (removal.covers[i] ?? []).reduce((most, spot) => {
      const x = nodes.along[i]! - middles[spot]!.along;
      const y = nodes.up[i]! - middles[spot]!.up;
      const lowest = lows[spot]! + Math.min(qLeast * x, qMost * x) + Math.min(rLeast * y, rMost * y);
      return Math.min(most, Math.max(0, out + nodes.needMm[i]! - baseMm - lowest));
    }, removal.depthMm),
  );
}

/**
 * The best choices of up to 1, 2, .. `countMost` spots to hack off: the least mean of bed and of what comes off, wishes kept as far as
 * they can be coming first; each proven best among all choices of as many spots by a programme of whole numbers. Ends early where
 * even all spots together would save less than `worthMm` more.
 * `middles` and `removal`: the spots to choose from. Source: DEVELOPERS.md, "From surface to lining".
 */
export function chooseSpots(
  nodes: WallNodes,
  wishes: readonly PlaneWish[],
  middles: readonly WallSpot[],
  removal: Removal,
  solve: ProgrammeSolver,
  { countMost, worthMm }: { readonly countMost: number; readonly worthMm: number },
  progress: (share: number) => void,
): SpotChoice[] {
  const attain = openPlaneProgramme(nodes, wishes, removal, solve);
  const mayClash = wishes.some(({ weights }) => weights.p !== 0);
  const mayGive = mayClash ? mayGiveWay(wishes) : () => false;
  const weigh = (spots: readonly number[]) =>
    attain({ least: 'worth', caps: [], mayGive }, { taken: new Set(spots) })?.measure('worth') ?? Infinity;
  const ideal = attain({ least: 'worth', caps: [], mayGive })?.measure('worth') ?? Infinity;
  const choices: SpotChoice[] = [];
  let best: readonly number[] = [];
  let worth = weigh(best);
  let bounded = Infinity;
  let mostMm: Float64Array = new Float64Array();
  for (let most = 1; most <= countMost && worth - ideal >= worthMm; most++) {
    if (bounded - worth > worthBounding) {
      mostMm = boundRemoval(nodes, middles, removal, attain, worth, mayGive);
      bounded = worth;
    }
    let proven = true;
    const seen = new Set<string>();
    for (;;) {
      const caps = [['worth', worth - alike]] as const;
      const end = attain({ least: 'worth', caps, mayGive }, { most, mostMm });
      if (!end) break;
      proven = end.proven;
      const found = weigh(end.chosen);
      if (found < worth) [best, worth] = [end.chosen, found];
      // A choice that comes back, looked at already, is the best: what is left is what the solver cannot tell from nothing.
      const isBack = seen.has(end.chosen.join());
      seen.add(end.chosen.join());
      if (!proven || isBack || end.bound >= worth - alike) break;
    }
    choices.push({ chosen: best, proven });
    progress(most / countMost);
  }
  return choices;
}
