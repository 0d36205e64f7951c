import type { Survey, WallSpot } from '../../core/survey.ts';

/** What is not level. */
export type SlopeSide = 'floor' | 'ceiling';

/** Where a floor lies, or how high a ceiling, before anything is said of it (mm): level. */
const levelOf = ({ wall }: Survey, side: SlopeSide) => (side === 'floor' ? 0 : wall.height);

/** The survey with the spots of its floor or ceiling, from left to right; none = level. */
export function setSlope(survey: Survey, side: SlopeSide, spots: readonly WallSpot[]): Survey {
  const sorted = [...spots].sort((a, b) => a.along - b.along);
  const others = Object.entries(survey.wall).filter(([name]) => name !== side);
  const wall = Object.fromEntries(others) as unknown as Survey['wall'];
  return { ...survey, wall: sorted.length > 0 ? { ...wall, [side]: sorted } : wall };
}

/** The survey with a floor or ceiling that can be given a slope: a spot at each end of the wall, level so far. */
export function startSlope(survey: Survey, side: SlopeSide): Survey {
  const up = levelOf(survey, side);
  return setSlope(survey, side, [
    { along: 0, up },
    { along: survey.wall.width, up },
  ]);
}

/** The survey with one more spot: in the middle of the widest stretch between two, straight between them. */
export function addSlopeSpot(survey: Survey, side: SlopeSide): Survey {
  const spots = survey.wall[side] ?? [];
  const gaps = spots.slice(1).map((spot, k) => ({ from: spots[k]!, to: spot }));
  if (gaps.length === 0) return startSlope(survey, side);
  const widest = gaps.reduce((best, gap) =>
    gap.to.along - gap.from.along > best.to.along - best.from.along ? gap : best,
  );
  const middle = {
    along: (widest.from.along + widest.to.along) / 2,
    up: (widest.from.up + widest.to.up) / 2,
  };
  return setSlope(survey, side, [...spots, middle]);
}
