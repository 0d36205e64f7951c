import type { HackedSpot } from '../core/liningPlan.ts';
import type { FaceWish, Lining, PlaneWishes, Survey, WallSpot } from '../core/survey.ts';
import { freeId } from './newSurvey.ts';

/** A lining without one of its entries. */
function leaveOut<K extends 'plane' | 'hackOff'>(lining: Lining, key: K): Omit<Lining, K> {
  const kept = Object.entries(lining).filter(([name]) => name !== key);
  return Object.fromEntries(kept) as unknown as Omit<Lining, K>;
}

/** The survey with other wishes on the boards' plane; a wish given as undefined is taken back. */
export function setPlane(
  survey: Survey,
  part: { readonly [K in keyof PlaneWishes]: PlaneWishes[K] | undefined },
): Survey {
  const wishes = Object.entries({ ...survey.lining.plane, ...part }).filter(
    ([, value]) => value !== undefined,
  );
  const rest = leaveOut(survey.lining, 'plane');
  const plane = Object.fromEntries(wishes) as PlaneWishes;
  return { ...survey, lining: wishes.length > 0 ? { ...rest, plane } : rest };
}

/** The survey with one more face to meet; it gets the next free id. */
export function addFace(survey: Survey, face: Omit<FaceWish, 'id'>): Survey {
  const { faces = [] } = survey.lining.plane ?? {};
  return setPlane(survey, { faces: [...faces, { id: freeId('m', faces), ...face }] });
}

/** The survey with a face to meet changed; a tolerance given as undefined is the setting's again. */
export function setFace(
  survey: Survey,
  id: string,
  part: { readonly [K in keyof FaceWish]?: FaceWish[K] | undefined },
): Survey {
  const { faces = [] } = survey.lining.plane ?? {};
  const changed = faces.map((face) => {
    if (face.id !== id) return face;
    const kept = Object.entries({ ...face, ...part }).filter(([, value]) => value !== undefined);
    return Object.fromEntries(kept) as unknown as FaceWish;
  });
  return setPlane(survey, { faces: changed });
}

/** The survey without a face to meet. */
export function dropFace(survey: Survey, id: string): Survey {
  const faces = (survey.lining.plane?.faces ?? []).filter((face) => face.id !== id);
  return setPlane(survey, { faces: faces.length > 0 ? faces : undefined });
}

/** The survey with these spots picked to be hacked off; none leaves no list behind. */
export function setHackOff(survey: Survey, spots: readonly WallSpot[]): Survey {
  const rest = leaveOut(survey.lining, 'hackOff');
  const picked = spots.map(({ along, up }) => ({ along, up }));
  return { ...survey, lining: picked.length > 0 ? { ...rest, hackOff: picked } : rest };
}

/** Whether a spot of the plan is this pick: the same place to half a millimetre. */
export function isAt(spot: WallSpot, pick: WallSpot): boolean {
  return Math.hypot(spot.along - pick.along, spot.up - pick.up) < 0.5;
}

/** The survey without one of the spots picked to be hacked off. */
export function dropHackOff(survey: Survey, spot: WallSpot): Survey {
  return setHackOff(
    survey,
    (survey.lining.hackOff ?? []).filter((pick) => !isAt(spot, pick)),
  );
}

/**
 * Which of the options (spots each) the picked spots are; null = a choice of the user's own.
 * @example findOption([], [{ spots: [] }]) // 0
 * @example findOption([{ along: 5, up: 5 }], [{ spots: [] }]) // null
 */
export function findOption(
  picked: readonly WallSpot[],
  options: readonly { readonly spots: readonly Pick<HackedSpot, 'along' | 'up'>[] }[],
): number | null {
  const index = options.findIndex(
    ({ spots }) =>
      spots.length === picked.length && spots.every((spot) => picked.some((pick) => isAt(spot, pick))),
  );
  return index < 0 ? null : index;
}
