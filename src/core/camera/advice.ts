import type { WallPoint } from './frames.ts';
import { expectPlan, findSeen, type PhotoPlan, type PlannedWorth } from './plan.ts';

/** One thing to do before a photograph is taken, with its figure (mm, positive; or a count). */
export type Advice =
  | { readonly code: 'back' | 'nearer' | 'higher' | 'lower' | 'left' | 'right'; readonly byMm: number }
  | { readonly code: 'side_by_side'; readonly count: number }
  | { readonly code: 'marks'; readonly count: number }
  | { readonly code: 'stand'; readonly sigmaMm: number }
  | { readonly code: 'lens'; readonly lensMm: number };

/** A plan's worth, what to do in the order in which one would do it, and what the photo is worth once that is done (the lens apart). */
export interface PlannedAdvice {
  readonly worth: PlannedWorth;
  readonly advice: readonly Advice[];
  readonly better: { readonly stand: WallPoint; readonly worth: PlannedWorth } | null;
}

/** A phone is held, or put down, at these heights (mm; common practice, no source); nobody goes nearer to a wall. */
const LOWEST_MM = 150;
const HIGHEST_MM = 2000;
const NEAREST_MM = 600;
/** The phone is to stand aside of the light by this share of its distance. */
const ASIDE_SHARE = 1 / 3;
/** All of the line is in the picture from this share on. */
const WHOLE = 0.985;
/** Nearer is worth saying where the distance can be a quarter less; a move under 50 mm is none. */
const FAR_SHARE = 1.25;
const LEAST_MOVE_MM = 50;
const STEP_MM = 50;
/** Photographs side by side share so much, that their lines join. */
const OVERLAP = 0.15;
const ENOUGH_MARKS = 4;
/** A stand measured to this is as good as a tape measure gives; a bow over this is worth a lens check. */
const STAND_SIGMA_MM = 10;
const LENS_MM = 0.3;

/** What a planned photograph is worth and what to do before it is taken. Source: DEVELOPERS.md "Before the photo". */
export function advisePhoto(plan: PhotoPlan): PlannedAdvice {
  const worth = expectPlan(plan);
  const stand = chooseStand(plan);
  const followed: PhotoPlan = {
    ...plan,
    stand,
    markCount: Math.max(ENOUGH_MARKS, plan.markCount),
    standSigmaMm: Math.min(STAND_SIGMA_MM, plan.standSigmaMm),
  };
  const after = expectPlan(followed);
  const advice = listMoves(plan.stand, stand);
  if (after.seen && after.seenShare < WHOLE) {
    const count = Math.ceil((1 - OVERLAP) / (after.seenShare - OVERLAP));
    if (count > 1 && Number.isFinite(count)) advice.push({ code: 'side_by_side', count });
  }
  if (plan.markCount < ENOUGH_MARKS) advice.push({ code: 'marks', count: ENOUGH_MARKS - plan.markCount });
  if (plan.standSigmaMm > STAND_SIGMA_MM) advice.push({ code: 'stand', sigmaMm: STAND_SIGMA_MM });
  const better = advice.length > 0 ? { stand, worth: after } : null;
  if (after.lensMm > Math.max(LENS_MM, after.reliefMm)) advice.push({ code: 'lens', lensMm: after.lensMm });
  return { worth, advice, better };
}

/** The nearest stand from which the whole line is seen, far enough aside; in a room too small, as far back as it goes. */
function chooseStand(plan: PhotoPlan): WallPoint {
  const level = plan.sheet.axis === 'level';
  const base = level ? { ...plan.stand, along: moveToMiddle(plan) } : plan.stand;
  const at = (out: number) => stepAside({ ...plan, stand: { ...base, out } });
  const shows = (stand: WallPoint) => {
    const seen = findSeen({ ...plan, stand });
    const length = level ? plan.wall.width : plan.wall.height;
    return seen !== null && (seen.to - seen.from) / length >= WHOLE;
  };
  const present = Math.min(plan.stand.out, plan.roomMm);
  let nearest = NEAREST_MM;
  while (nearest <= plan.roomMm && !shows(at(nearest))) nearest += STEP_MM;
  if (nearest > plan.roomMm) return at(plan.roomMm);
  const fits = present >= nearest && shows(at(present));
  return at(fits && present <= FAR_SHARE * nearest ? present : nearest);
}

/** For a level line the middle of the wall, unless the phone is near it already. */
function moveToMiddle({ wall, stand }: PhotoPlan): number {
  return Math.abs(stand.along - wall.width / 2) > 0.15 * wall.width ? wall.width / 2 : stand.along;
}

/** The stand moved aside of the light far enough, to the side it is on if a phone can be held there. */
function stepAside({ sheet, stand }: PhotoPlan): WallPoint {
  const level = sheet.axis === 'level';
  const here = level ? stand.up : stand.along;
  const wanted = ASIDE_SHARE * stand.out;
  if (Math.abs(here - sheet.at) >= wanted) return stand;
  const side = here >= sheet.at ? 1 : -1;
  const sides = [side, -side].map((sign) => sheet.at + sign * wanted);
  if (!level) return { ...stand, along: sides[0]! };
  const reach = sides.find((up) => up >= LOWEST_MM && up <= HIGHEST_MM);
  if (reach !== undefined) return { ...stand, up: reach };
  // neither: the end of the reach that is further from the light
  const up = sheet.at - LOWEST_MM > HIGHEST_MM - sheet.at ? LOWEST_MM : HIGHEST_MM;
  return { ...stand, up };
}

function listMoves(from: WallPoint, to: WallPoint): Advice[] {
  const moves: Advice[] = [];
  const add = (byMm: number, more: 'back' | 'higher' | 'right', less: 'nearer' | 'lower' | 'left') => {
    if (Math.abs(byMm) >= LEAST_MOVE_MM) moves.push({ code: byMm > 0 ? more : less, byMm: Math.abs(byMm) });
  };
  add(to.out - from.out, 'back', 'nearer');
  add(to.up - from.up, 'higher', 'lower');
  add(to.along - from.along, 'right', 'left');
  return moves;
}
