import type { LiningPlan } from '../../core/results.ts';
import type { Survey } from '../../core/survey.ts';
import { formatLength } from '../units.ts';
import type { PartName } from './parts.ts';

const count = (number: number, one: string, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;

/** How far the boards' face stands in front of the masonry (mm): mean over the wall and most. */
export function findFace({ lining }: Survey, { meanBedMm, maxBedMm }: LiningPlan) {
  const { thickness } = lining.board;
  return { meanMm: meanBedMm + thickness, mostMm: maxBedMm + thickness };
}

/** How far the boards' face is from the laser's plane at the floor, at the wall's left and right end (mm, positive behind it). */
export function findFaceEnds({ wall, lining }: Survey, { bedPlane: { p, q } }: LiningPlan) {
  const { thickness } = lining.board;
  return { leftMm: -p - thickness, rightMm: -(p + q * wall.width) - thickness };
}

/**
 * A time as one plans a day with it: to 10 minutes under two hours, else to half hours.
 * @example sayTime(47) // '50 min'
 * @example sayTime(200) // '3.5 h'
 */
export function sayTime(minutes: number): string {
  return minutes < 120
    ? `${Math.max(10, Math.round(minutes / 10) * 10)} min`
    : `${Math.round(minutes / 30) / 2} h`;
}

/** Minutes of bonding strips and boards, at the user's own pace; waiting and all that has no time is not counted. */
function countFixing({ work }: LiningPlan): number {
  return work.reduce(
    (sum, step) =>
      step.code === 'bond_packing' || step.code === 'fix_board' || step.code === 'fix_reveals'
        ? sum + step.figures.minutes
        : sum,
    0,
  );
}

/** Whether the boards stand plumb, to what is shown of a lean (0.05 mm per m). */
export const isPlumb = ({ bedPlane: { r } }: Pick<LiningPlan, 'bedPlane'>): boolean => Math.abs(r) < 5e-5;

/** Whether the boards stand parallel to the laser's plane along the wall, to what is shown of a turn (0.05 mm per m). */
export const isParallel = ({ bedPlane: { q } }: Pick<LiningPlan, 'bedPlane'>): boolean => Math.abs(q) < 5e-5;

function sayPlane(survey: Survey, plan: LiningPlan): string {
  const { meanMm, mostMm } = findFace(survey, plan);
  const { units } = survey;
  const missed = plan.planeReport.wishes.filter(({ kept }) => !kept).length;
  return [
    `face ${formatLength(meanMm, units, 0)} out from the masonry on the whole, ${formatLength(mostMm, units, 0)} at most`,
    isPlumb(plan) ? 'plumb' : `leaning ${Math.abs(plan.bedPlane.r * 1000).toFixed(1)} mm per m`,
    ...(plan.hacked.length > 0 ? [`${count(plan.hacked.length, 'spot')} to hack off`] : []),
    ...(missed > 0 ? [`${count(missed, 'wish', 'wishes')} not kept`] : []),
  ].join(', ');
}

function sayBoards({ boards, cutting, reveals }: LiningPlan): string {
  const bought = cutting.stock.reduce((sum, size) => sum + size.count, 0);
  return [
    ...(bought > 0 ? [`${count(bought, 'board')} to buy`] : []),
    `${count(boards.length, 'piece')} on the wall`,
    ...(reveals.length > 0 ? [`${count(reveals.length, 'piece')} in reveals`] : []),
    ...(bought > 0 ? [`${Math.round(100 * cutting.wasteShare)} % waste`] : []),
  ].join(', ');
}

function sayScrews({ screws }: LiningPlan): string {
  const near = screws.filter(({ services }) => services !== null).length;
  return `${count(screws.length, 'screw')}${near > 0 ? `, ${near} where cables or pipes are likely` : ''}`;
}

function sayAdhesive({ adhesive, batches }: LiningPlan): string {
  const mixes = batches.length > 0 ? batches.length : adhesive.mixes;
  return `${count(adhesive.bags, 'bag')} of ${adhesive.bagKg} kg, ${adhesive.waterL.toFixed(0)} L of water, ${count(mixes, 'mix', 'mixes')}`;
}

function sayWork(plan: LiningPlan): string {
  const minutes = countFixing(plan);
  const steps = count(plan.work.length, 'step');
  return minutes > 0 ? `${steps}; the fixing alone takes about ${sayTime(minutes)}` : steps;
}

/** What each part of the plan comes to, in one line. */
export function sumUpPart(part: PartName, survey: Survey, plan: LiningPlan): string {
  if (part === 'plane') return sayPlane(survey, plan);
  if (part === 'boards') return sayBoards(plan);
  if (part === 'screws') return sayScrews(plan);
  if (part === 'adhesive') return sayAdhesive(plan);
  if (part === 'work') return sayWork(plan);
  return 'every figure of the trade that this plan is made with, and your own';
}
