import { setDone } from '../../app/editDone.ts';
import type { BoardAsBuilt, SetScrew } from '../../core/liningPlan.ts';
import type { GaugeScrew, LiningPlan } from '../../core/results.ts';
import { usualScrewLengthsMm } from '../../core/lining/defaults.ts';
import type { Lining, Survey } from '../../core/survey.ts';
import { writeLength } from '../../draw/length.ts';
import { formatLength, type Units } from '../units.ts';

/** The screws of one board, in the order in which they are set. */
export interface ScrewGroup {
  readonly board: string;
  readonly screws: readonly GaugeScrew[];
}

/** All screws by board, in the order of work where the plan has one; each screw once. */
export function groupScrews({ screws, work }: Pick<LiningPlan, 'screws' | 'work'>): ScrewGroup[] {
  const order = work.filter(({ stage }) => stage === 'screws').flatMap((step): readonly string[] => step.of);
  const place = new Map([...new Set(order)].map((id, k) => [id, k]));
  const placeOf = ({ id }: GaugeScrew) => place.get(id) ?? Infinity;
  const ordered = [...screws].sort((a, b) => {
    const [first, second] = [placeOf(a), placeOf(b)];
    return first === second ? 0 : first - second;
  });
  const groups = new Map<string, GaugeScrew[]>();
  for (const screw of ordered) groups.set(screw.board, [...(groups.get(screw.board) ?? []), screw]);
  return [...groups].map(([board, own]) => ({ board, screws: own }));
}

/** Heads that are all so near one distance from the laser (mm) that a rule cannot tell them apart. */
const sameDistanceMm = 0.25;

/** The one distance behind the laser's plane that all heads are set to; null where each has its own. */
export function commonFromLaser(screws: readonly GaugeScrew[]): number | null {
  const distances = screws.map(({ fromLaser }) => fromLaser);
  const [least, most] = [Math.min(...distances), Math.max(...distances)];
  return distances.length > 0 && most - least <= sameDistanceMm ? (least + most) / 2 : null;
}

/** The survey with what a screw was really set to (mm out of the wall), which ticks it off; null takes the figure away. */
export function setAsBuilt(survey: Survey, screw: string, projection: number | null): Survey {
  const { asBuilt = [], ...rest } = survey.lining;
  const others = asBuilt.filter((each) => each.screw !== screw);
  const next = projection === null ? others : [...others, { screw, projection }];
  const lining = next.length > 0 ? { ...rest, asBuilt: next } : rest;
  const changed = { ...survey, lining };
  return projection === null ? changed : setDone(changed, screw, true);
}

/**
 * Lengths of screw on hand (mm): those that the survey names, else the usual ones.
 * @example listScrewLengths({ screwLengths: [60, 80] }) // [60, 80]
 */
export function listScrewLengths({ screwLengths }: Pick<Lining, 'screwLengths'>): readonly number[] {
  return screwLengths ?? usualScrewLengthsMm;
}

/** The survey with one more length of screw on hand (mm). */
export function addScrewLength(survey: Survey, lengthMm: number): Survey {
  const lengths = listScrewLengths(survey.lining);
  if (lengths.includes(lengthMm)) return survey;
  const screwLengths = [...lengths, lengthMm].sort((a, b) => a - b);
  return { ...survey, lining: { ...survey.lining, screwLengths } };
}

/** The survey without one length of screw (mm). */
export function removeScrewLength(survey: Survey, lengthMm: number): Survey {
  const screwLengths = listScrewLengths(survey.lining).filter((each) => each !== lengthMm);
  return { ...survey, lining: { ...survey.lining, screwLengths } };
}

/**
 * A figure to set a screw by, without its unit: to a tenth of a mm, inches to a 32nd.
 * @example figureText(42, 'mm') // '42.0'
 * @example figureText(19.05, 'inch') // '3/4'
 */
export function figureText(lengthMm: number, units: Units): string {
  if (!Number.isFinite(lengthMm)) return '–';
  return units === 'inch' ? writeLength(lengthMm, units, 0.5) : lengthMm.toFixed(1).replace('-', '−');
}

const withUnit = (lengthMm: number, units: Units) =>
  `${figureText(lengthMm, units)} ${units === 'inch' ? 'in' : 'mm'}`;

/** Why cables or pipes are likely where a screw goes; null where nothing is known. */
export function sayServices({ services }: GaugeScrew, survey: Survey): string | null {
  if (services === null) return null;
  if (services === 'top') return 'cables likely along the ceiling';
  if (services === 'end') return 'cables likely up the end of the wall';
  const kind = survey.wall.boxes.find(({ id }) => id === services)?.kind ?? 'box';
  return `cables or pipes likely, from ${kind} ${services}`;
}

/** How a screw as set stands against the plan: words, and whether it needs turning. */
export function saySet(
  { offMm, withinTolerance }: SetScrew,
  units: Units,
): { words: string; needs: boolean } {
  const off = withUnit(Math.abs(offMm), units);
  if (withinTolerance) return { words: `good, off by ${off}`, needs: false };
  return {
    words: offMm > 0 ? `${off} too far out: turn it in` : `${off} too deep: turn it out`,
    needs: true,
  };
}

/** How a board will lie on its screws as set: words, and whether it needs the user. */
export function sayBoard({ state, worst }: BoardAsBuilt, units: Units): { words: string; needs: boolean } {
  const where = worst
    ? `worst ${formatLength(worst.along, units, 0)} from the left, ${formatLength(worst.up, units, 0)} up, by ${withUnit(Math.abs(worst.byMm), units)}`
    : '';
  const words = {
    good: 'lies within tolerance on its screws',
    open: worst ? 'screws still to come, some out of tolerance' : 'screws still to come',
    off: 'lies flat, but out of the plane of the others',
    rocks: 'will rock, its heads do not lie in one plane',
    binds: 'will bind on the masonry',
  }[state];
  return {
    words: [words, where].filter(Boolean).join('; '),
    needs: state === 'open' ? worst !== null : state !== 'good',
  };
}

/**
 * The range that is left for a screw still to be set so that its board lies in one plane on those that are; null where that is the plan's own
 * figure, give or take the tolerance.
 */
export function sayRange(
  { id, projection }: Pick<GaugeScrew, 'id' | 'projection'>,
  boards: readonly BoardAsBuilt[],
  units: Units,
): string | null {
  const range = boards.flatMap(({ next }) => next).find((each) => each.screw === id);
  if (!range || Math.abs((range.least + range.most) / 2 - projection) < 0.05) return null;
  return `${figureText(range.least, units)} to ${withUnit(range.most, units)}`;
}
