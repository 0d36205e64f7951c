import type { Mark, Photo, Tape } from '../survey.ts';
import { ThreeTermFit } from './threeTerms.ts';

/** A tape gives a mark about every so many mm, no fewer and no more than these. */
const EVERY_MM = 250;
const FEWEST = 4;
const MOST = 14;
/** Each is the mean of so many graduations about it; fewer than the least are no mark. */
const NEAR = 13;
const LEAST_NEAR = 5;
/**
 * What the means of neighbours still have in common, px (sigma): how a tape is printed, how the strokes lean, how the picture is
 * sharpened. On made photographs the means of a whole tape miss by 0.03 to 0.1 px.
 */
const SHARED_SIGMA_PX = 0.08;

/** A mark that graduations of a tape make, and the tape's index in its photo. */
export interface TapeMark {
  readonly mark: Mark;
  readonly tape: number;
}

/** Whether a tape's reading can be used: legible, and its names fit. */
export function isUsable({ read }: Tape): boolean {
  return read !== undefined && read.legible && read.misnamedMm === 0;
}

/**
 * The marks that a photo's tapes give as read: means of neighbouring graduations, about one every 250 mm, 4 to 14 a tape, each
 * saying where it is along its tape only. None of tapes not read, not legible, or whose names do not fit.
 */
export function listTapeMarks({ tapes, marks }: Pick<Photo, 'tapes' | 'marks'>): TapeMark[] {
  return tapes.flatMap((tape, index) => {
    const end = marks[tape.from];
    const graduations = tape.read?.graduations ?? [];
    if (!isUsable(tape) || !end || graduations.length < LEAST_NEAR) return [];
    const [first, last] = [graduations[0]!.at, graduations.at(-1)!.at];
    const count = Math.max(FEWEST, Math.min(MOST, Math.round((last - first) / EVERY_MM) + 1));
    const found: TapeMark[] = [];
    for (let i = 0; i < count; i++) {
      const wanted = first + ((i + 0.5) / count) * (last - first);
      const mark = meanNear(tape, end, wanted);
      if (mark) found.push({ mark, tape: index });
    }
    return found;
  });
}

/** A photo with what its tapes' graduations say as more marks after the clicked ones. */
export function withTapeMarks(photo: Photo): Photo {
  const more = listTapeMarks(photo);
  return more.length === 0 ? photo : { ...photo, marks: [...photo.marks, ...more.map(({ mark }) => mark)] };
}

/** The mean of the graduations about a place of a tape (mm), by a parabola through them; null where there are too few. */
function meanNear(tape: Tape, end: Mark, wantedMm: number): Mark | null {
  const graduations = tape.read!.graduations;
  const reachMm = (NEAR / 2) * tape.pitch;
  const near = graduations.filter(({ at }) => Math.abs(at - wantedMm) <= reachMm);
  if (near.length < LEAST_NEAR) return null;
  const at = near.reduce((sum, each) => sum + each.at, 0) / near.length;
  const fitU = new ThreeTermFit();
  const fitV = new ThreeTermFit();
  for (const each of near) {
    const x = (each.at - at) / reachMm;
    fitU.add(1, x, x * x, each.u - near[0]!.u, each.sigma ** -2);
    fitV.add(1, x, x * x, each.v - near[0]!.v, each.sigma ** -2);
  }
  const u = fitU.solve();
  const v = fitV.solve();
  if (!u || !v) return null;
  const place = tape.axis === 'along' ? { along: at, up: end.up } : { along: end.along, up: at };
  return {
    ...place,
    u: near[0]!.u + u.values[0],
    v: near[0]!.v + v.values[0],
    sigma: Math.hypot(Math.sqrt(u.variances[0]), SHARED_SIGMA_PX),
    only: tape.axis,
  };
}
