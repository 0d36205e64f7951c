import type { Sheet, Wall } from '../survey.ts';

/** A stretch along a line, mm. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** On how much of the wall a line is seen. */
export interface Coverage {
  /** Share of the wall's length along the line, less openings and boxes, on which it is seen: 0 to 1; NaN where there is no wall. */
  readonly share: number;
  /** Stretches of wall without the line that are worth telling, from the left or the floor. */
  readonly gaps: readonly Stretch[];
}

/** Points nearer to each other than this are one stretch, mm: two or three steps of what the solve takes as one. */
const JOINED_MM = 50;
/** A shorter stretch without the line is bridged by its neighbours, mm. */
const TOLD_MM = 100;

/** Stretches joined where they touch, in their order. */
function joinStretches(stretches: readonly Stretch[], joinMm = 0): Stretch[] {
  const joined: { from: number; to: number }[] = [];
  for (const { from, to } of [...stretches].sort((a, b) => a.from - b.from)) {
    const last = joined.at(-1);
    if (last && from <= last.to + joinMm) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  return joined;
}

/** What of a length none of some joined stretches covers. */
function listBetween(stretches: readonly Stretch[], lengthMm: number): Stretch[] {
  const ends = [0, ...stretches.flatMap(({ from, to }) => [from, to]), lengthMm];
  return Array.from({ length: ends.length / 2 }, (_, k) => ({
    from: Math.max(0, ends[2 * k]!),
    to: Math.min(lengthMm, ends[2 * k + 1]!),
  })).filter(({ from, to }) => to > from);
}

const lengthOf = (stretches: readonly Stretch[]) =>
  stretches.reduce((sum, { from, to }) => sum + to - from, 0);

/** The stretches of a line at `at` (mm) that run over openings and boxes of the wall: no wall is seen there. */
export function listHoles(
  { axis, at }: Sheet,
  { openings, boxes }: Pick<Wall, 'openings' | 'boxes'>,
): Stretch[] {
  if (at === null) return [];
  return [...openings, ...boxes].flatMap(({ along, up, width, height }) => {
    const [across, breadth, from, long] =
      axis === 'level' ? [up, height, along, width] : [along, width, up, height];
    return at > across && at < across + breadth ? [{ from, to: from + long }] : [];
  });
}

/**
 * On how much of a wall's length a line is seen, by the places `s` of its points along it (mm).
 * @example coverLine([0, 40, 80, 500, 540], 1000, [{ from: 600, to: 1000 }]).gaps // [{ from: 80, to: 500 }]
 */
export function coverLine(s: ArrayLike<number>, lengthMm: number, holes: readonly Stretch[]): Coverage {
  const points = Array.from(s, (at) => ({ from: at, to: at }));
  const seen = joinStretches(points, JOINED_MM);
  const blind = joinStretches(holes);
  const wallMm = lengthOf(listBetween(blind, lengthMm));
  const unseen = listBetween(joinStretches([...seen, ...blind]), lengthMm);
  return {
    share: wallMm > 0 ? 1 - lengthOf(unseen) / wallMm : NaN,
    gaps: unseen.filter(({ from, to }) => to - from >= TOLD_MM),
  };
}
