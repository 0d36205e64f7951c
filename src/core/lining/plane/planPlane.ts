import type { HackOption, HackedSpot, PlaneReport, WishOutcome } from '../../liningPlan.ts';
import type { Warning } from '../../refusal.ts';
import type { BedPlane, HighPoint, Surface } from '../../results.ts';
import type { Lining, Wall } from '../../survey.ts';
import { fitBedPlane, giveWayAlone } from '../bedPlane.ts';
import type { LiningSettings } from '../defaults.ts';
import { findHighPoints } from '../highPoint.ts';
import type { Progress, ProgrammeSolver } from '../programme.ts';
import { listHackedSpots } from './hackedSpots.ts';
import { planHackOptions } from './hackOptions.ts';
import { allowRemoval } from './highSpots.ts';
import { noRemoval, type Removal } from './planeProgramme.ts';
import { askBed, gatherNodes, spreadBed, type WallNodes } from './wallNodes.ts';
import { gatherWishes, missWish, type PlaneWish } from './wishes.ts';

/** Where the boards' plane stands, the bed it leaves on the wall as hacked, and what became of the wishes on it. */
export interface PlanePlan {
  readonly plane: BedPlane;
  /** At the surface's nodes (mm); NaN where there is no wall. */
  readonly bed: Float64Array;
  readonly meanBedMm: number;
  readonly maxBedMm: number;
  readonly highPoints: readonly HighPoint[];
  readonly report: PlaneReport;
  readonly hacked: readonly HackedSpot[];
  readonly hackOptions: readonly HackOption[];
  readonly warnings: readonly Warning[];
}

/** A wish missed by less is kept (mm; mm per m). */
const rounding = 1e-6;

function reportWishes(
  nodes: WallNodes,
  wishes: readonly PlaneWish[],
  plane: BedPlane,
  removal: Removal,
  solve: ProgrammeSolver,
): WishOutcome[] {
  const missed = wishes.map((wish) => missWish(plane, wish));
  const alone = missed.some((by) => by > rounding) ? giveWayAlone(nodes, wishes, solve, removal) : [];
  return [...wishes.map(({ wish }) => wish), 'least_bed'].map((wish, k) => {
    const missedBy = missed[k] ?? 0;
    const kept = missedBy <= rounding;
    return { wish, kept, missedBy: kept ? 0 : missedBy, aloneBy: alone[k] ?? null };
  });
}

/** The bed plane of a lined surface without the options: see `planPlane`. */
export function standPlane(
  surface: Surface,
  wall: Wall,
  lining: Lining,
  settings: LiningSettings,
  solve: ProgrammeSolver,
): Omit<PlanePlan, 'hackOptions'> {
  const sigmas = lining.plane?.sigmas ?? 0;
  const picked = lining.hackOff ?? [];
  const needMm = askBed(surface, lining.bed.min, sigmas);
  const nodes = gatherNodes(surface, needMm);
  const wishes = gatherWishes(lining, settings);
  const removal = picked.length > 0 ? allowRemoval(nodes, picked, settings) : noRemoval;
  const fit = fitBedPlane(nodes, wishes, solve, removal);
  const outcomes = reportWishes(nodes, wishes, fit.plane, removal, solve);
  const bed = spreadBed(surface, nodes, fit);
  const isHacked = new Set(nodes.node.filter((_, i) => fit.hackedMm[i]! > 0));
  return {
    plane: fit.plane,
    bed,
    meanBedMm: fit.meanBedMm,
    maxBedMm: fit.maxBedMm,
    highPoints: findHighPoints(surface, bed, needMm, isHacked, wall),
    report: { sigmas, wishes: outcomes },
    hacked: listHackedSpots(surface, wall, nodes, fit.hackedMm, picked),
    warnings: outcomes
      .filter(({ kept }) => !kept)
      .map(({ wish }) => ({ code: 'wish_not_kept', subject: wish })),
  };
}

/**
 * The bed plane of a lined surface by the wishes of the survey, with the spots hacked off that were picked, and what hacking off others
 * would give. `surface`: with NaN where no wall is lined, some node known; `known`: the options where they were found before, for they take
 * longest. Source: DEVELOPERS.md, "From surface to lining".
 */
export function planPlane(
  surface: Surface,
  wall: Wall,
  lining: Lining,
  settings: LiningSettings,
  solve: ProgrammeSolver,
  progress: Progress,
  known: readonly HackOption[] | null,
): PlanePlan {
  return {
    ...standPlane(surface, wall, lining, settings, solve),
    hackOptions: known ?? planHackOptions(surface, wall, lining, settings, solve, progress),
  };
}
