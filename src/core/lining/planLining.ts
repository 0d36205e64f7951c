import type { HackOption } from '../liningPlan.ts';
import { refuse } from '../refusal.ts';
import type { LiningPlan, Surface } from '../results.ts';
import type { Survey } from '../survey.ts';
import { planBoards } from './boards.ts';
import { planCutting } from './boards/planCutting.ts';
import { settingsOf } from './defaults.ts';
import { judgeFitness, warnOfBed } from './fitness.ts';
import { keepLinedNodes } from './linedNodes.ts';
import { planMixing } from './mix/mixing.ts';
import { planFixing } from './fixing/planFixing.ts';
import { planPlane } from './plane/planPlane.ts';
import { fillNodes } from './nodeGrid.ts';
import type { Progress, ProgrammeSolver } from './programme.ts';
import { planWork } from './order/workPlan.ts';
import { measureZones } from './zones.ts';

/** What of a survey, besides its surface, says where the boards' plane stands and what hacking off would give: equal text, equal results. */
export function standingOf({ wall, lining }: Survey): string {
  const { bed, board, plane, hackOff, settings } = lining;
  return JSON.stringify([wall, bed, board, plane, hackOff, settings]);
}

/**
 * The whole plan of a surveyed wall: where the boards' plane stands by the survey's wishes with the least adhesive, the bed's zones, what
 * to hack off and pack out, boards and how they are cut, gauge screws, dabs, mixes, the order of work, and whether direct bonding suits
 * the wall at all. `solved`: the wall as surveyed; `solve`: the solver of linear programmes; `progress`: told on the way;
 * `known`: what hacking off would give, where that was found before of the same surface and the same `standingOf`.
 * Lengths in mm. Source: DEVELOPERS.md, "From surface to lining".
 * @throws nothing_to_line when no part of the wall is known or none is left to board
 */
export function planLining(
  survey: Survey,
  solved: Surface,
  solve: ProgrammeSolver,
  progress: Progress = () => undefined,
  known: readonly HackOption[] | null = null,
): LiningPlan {
  const { wall, lining } = survey;
  const settings = settingsOf(lining);
  const surface = keepLinedNodes(solved, wall);
  if (surface.out.every(Number.isNaN)) refuse({ code: 'nothing_to_line' });
  const layout = planBoards(wall, lining, settings, solve, (share) => progress(0.4 * share));
  if (layout.boards.length === 0) refuse({ code: 'nothing_to_line' });
  const told = (share: number) => progress(0.4 + 0.4 * share);
  const standing = planPlane(surface, wall, lining, settings, solve, told, known);
  const { plane, bed, highPoints } = standing;
  const { stepMm, nx, ny } = surface;
  const filledBed = fillNodes({ stepMm, nx, ny, values: bed });
  const filledSigma = fillNodes({ stepMm, nx, ny, values: surface.sigma });
  const zones = measureZones(filledBed, filledSigma, wall, lining.bed);
  const ground = { bed: filledBed, sigma: filledSigma, plane, limits: lining.bed };
  const fixing = planFixing(layout.boards, wall, ground, lining, settings);
  const { packing, dabs } = fixing;
  const { reveals } = layout;
  const cut = planCutting({ ...layout, packing: packing.cuts }, lining, settings, solve);
  const laid = { dabs, strips: packing.strips, reveals };
  const mixing = planMixing(layout.boards, filledBed, laid, lining, settings);
  const warnings = [
    ...warnOfBed(zones, bed, surface.sigma, lining.bed.min, settings),
    ...standing.warnings,
    ...layout.warnings,
    ...cut.warnings,
    ...fixing.warnings,
    ...mixing.warnings,
  ];
  const plan: Omit<LiningPlan, 'work'> = {
    bedPlane: plane,
    bed,
    meanBedMm: standing.meanBedMm,
    maxBedMm: standing.maxBedMm,
    zones,
    highPoint: highPoints.reduce((high, point) => (point.out > high.out ? point : high)),
    highPoints,
    boards: cut.boards,
    screws: fixing.screws,
    adhesive: mixing.adhesive,
    planeReport: standing.report,
    hacked: standing.hacked,
    hackOptions: standing.hackOptions,
    packing,
    reveals,
    cutting: cut.cutting,
    dabs,
    batches: mixing.batches,
    asBuilt: fixing.asBuilt,
    verdict: judgeFitness({ ...standing, zones }, survey, warnings, settings),
    warnings,
  };
  return { ...plan, work: planWork({ survey, plan, pours: mixing.pours, settings }) };
}
