import { refuse } from '../refusal.ts';
import type { LiningPlan, Surface } from '../results.ts';
import type { Survey } from '../survey.ts';
import { planAdhesive } from './adhesive.ts';
import { measureBed } from './bed.ts';
import { fitBedPlane, type WallSpots } from './bedPlane.ts';
import { planBoards } from './boards.ts';
import { settingsOf } from './defaults.ts';
import { judgeFitness, warnOfBed } from './fitness.ts';
import { findHighPoints } from './highPoint.ts';
import { keepLinedNodes } from './linedNodes.ts';
import { fillNodes } from './nodeGrid.ts';
import type { Progress, ProgrammeSolver } from './programme.ts';
import { planScrews } from './screws.ts';
import { measureZones } from './zones.ts';

/** The nodes of the surface where there is wall (mm). */
function gatherSpots({ stepMm, nx, out }: Surface): WallSpots {
  const nodes = [...out.keys()].filter((k) => !Number.isNaN(out[k]!));
  return {
    along: Float64Array.from(nodes, (k) => (k % nx) * stepMm),
    up: Float64Array.from(nodes, (k) => Math.floor(k / nx) * stepMm),
    out: Float64Array.from(nodes, (k) => out[k]!),
  };
}

/**
 * The fixing plan of a surveyed wall: a plumb bed plane that may turn, with the least bed of all that keep the minimum
 * everywhere; the bed's zones, boards, gauge screws, adhesive and whether direct bonding suits the wall at all.
 * Lengths in mm. Source: DEVELOPERS.md, "From surface to lining".
 * @throws nothing_to_line when no part of the wall is known or none is left to board
 */
export function planLining(
  survey: Survey,
  solved: Surface,
  solve: ProgrammeSolver,
  progress: Progress = () => undefined,
): LiningPlan {
  const { wall, lining } = survey;
  const settings = settingsOf(lining);
  const surface = keepLinedNodes(solved, wall);
  const spots = gatherSpots(surface);
  if (spots.out.length === 0) refuse({ code: 'nothing_to_line' });
  const layout = planBoards(wall, lining.board, settings);
  if (layout.boards.length === 0) refuse({ code: 'nothing_to_line' });
  const { plane, meanBedMm, maxBedMm } = fitBedPlane(spots, {
    minBedMm: lining.bed.min,
    turnMost: Infinity,
    leanMost: 0,
  });
  progress(0.3);
  void solve;
  const bed = measureBed(surface, plane);
  const { stepMm, nx, ny } = surface;
  const filledBed = fillNodes({ stepMm, nx, ny, values: bed });
  const filledSigma = fillNodes({ stepMm, nx, ny, values: surface.sigma });
  const zones = measureZones(filledBed, wall, lining.bed);
  const highPoints = findHighPoints(surface, bed, lining.bed.min, wall);
  const ground = { bed: filledBed, sigma: filledSigma, plane, limits: lining.bed };
  const warnings = [...warnOfBed(zones, bed, surface.sigma, lining.bed.min, settings), ...layout.warnings];
  return {
    bedPlane: plane,
    bed,
    meanBedMm,
    maxBedMm,
    zones,
    highPoint: highPoints.reduce((high, point) => (point.out > high.out ? point : high)),
    highPoints,
    boards: layout.boards,
    screws: planScrews(layout.boards, wall, ground, settings),
    adhesive: planAdhesive(layout.boards, filledBed, lining, settings),
    planeReport: { sigmas: 0, wishes: [] },
    hacked: [],
    hackOptions: [],
    packing: { strips: [], cuts: [] },
    reveals: [],
    cutting: { sheets: [], stock: [], cuts: 0, wasteShare: 0, sheetsLeast: 0, proven: true },
    dabs: [],
    batches: [],
    asBuilt: { screws: [], boards: [] },
    work: [],
    verdict: judgeFitness(zones, wall, warnings, settings),
    warnings,
  };
}
