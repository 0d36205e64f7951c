import type { Warning } from '../refusal.ts';
import type { Opening, Wall } from '../survey.ts';
import type { LiningSettings } from './defaults.ts';
import { placeJoints, type BoardRun, type NoJoint } from './joints.ts';
import { clipSides, coversSides, sidesOf, type Sides } from './rects.ts';

/** A stretch that joints keep clear of, and what to warn of when one cannot. */
export interface KeptClear extends NoJoint {
  readonly warning: Warning;
}

/** Boards lie side by side along the wall, or one above the other up it. */
export type Axis = 'along' | 'up';

/** A joint through a box is worse than any number of joints beside corners. */
const throughBoxCost = 10;

const endsOn = (axis: Axis, { left, right, bottom, top }: Sides): readonly [number, number] =>
  axis === 'along' ? [left, right] : [bottom, top];

/** Stretches along `axis` where a joint across `frame` would meet an opening's corner line or come near a box. */
export function listKeptClear(
  wall: Wall,
  openings: readonly Opening[],
  frame: Sides,
  axis: Axis,
  settings: LiningSettings,
): KeptClear[] {
  const [first, last] = endsOn(axis, frame);
  const met = openings.filter((opening) => clipSides(sidesOf(opening), frame));
  const corners = met.flatMap((opening) =>
    endsOn(axis, sidesOf(opening))
      .filter((corner) => corner > first && corner < last)
      .map((corner): KeptClear => {
        const warning: Warning = { code: 'joint_at_corner', subject: opening.id };
        return {
          from: corner - settings.cornerClearMm,
          to: corner + settings.cornerClearMm,
          cost: 1,
          warning,
        };
      }),
  );
  const boxes = wall.boxes.filter(
    (box) =>
      clipSides(sidesOf(box), frame) && !met.some((opening) => coversSides(sidesOf(opening), sidesOf(box))),
  );
  const places = boxes.flatMap((box): KeptClear[] => {
    const [from, to] = endsOn(axis, sidesOf(box));
    const warning: Warning = { code: 'joint_at_box', subject: box.id };
    return [
      { from: from - settings.boxClearMm, to: to + settings.boxClearMm, cost: 1, warning },
      { from, to, cost: throughBoxCost, warning },
    ];
  });
  return [...corners, ...places];
}

/** Parts of `frame` between joints along `axis`, and the stretches kept clear that one of the joints lies in. */
export function partFrame(
  frame: Sides,
  axis: Axis,
  joints: readonly number[],
  noJoint: readonly KeptClear[],
): { parts: Sides[]; met: KeptClear[] } {
  const [from, to] = endsOn(axis, frame);
  const met = noJoint.filter((each) =>
    joints.some((joint) => joint > each.from + 1e-6 && joint < each.to - 1e-6),
  );
  const cuts = [from, ...joints, to];
  const parts = cuts.slice(1).map((end, i): Sides => {
    const start = cuts[i]!;
    return axis === 'along' ? { ...frame, left: start, right: end } : { ...frame, bottom: start, top: end };
  });
  return { parts, met };
}

/** Cuts `frame` up its height into boards of at most `boardMm`; `met`: the stretches that a joint could not avoid. */
export function sliceUp(
  frame: Sides,
  boardMm: number,
  noJoint: readonly KeptClear[],
  prefer: BoardRun['prefer'],
  settings: LiningSettings,
): { parts: Sides[]; met: KeptClear[] } {
  const minStripMm = Math.min(settings.minStripMm, boardMm / 2);
  const joints = placeJoints({ from: frame.bottom, to: frame.top, boardMm, minStripMm, noJoint, prefer });
  return partFrame(frame, 'up', joints, noJoint);
}
