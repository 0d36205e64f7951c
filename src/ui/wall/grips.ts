import type { Handle } from '../../app/editWall.ts';
import { canSize, type Thing } from '../../app/wallThings.ts';
import type { WallRect } from '../../core/survey.ts';
import type { WallFrame } from '../../draw/frame.ts';
import type { Spot } from '../photo/view.ts';

/** What a press takes hold of: a thing, or an edge or corner of it. */
export interface Grip {
  readonly thing: Thing;
  readonly handle: Handle | null;
}

/** How near a press must be to what it means (css px): a thumb's 44 px target, less for a mouse. */
export const REACH_PX = { mouse: 10, touch: 22 } as const;
/** A line is as long as the wall; it must not take the presses of everything beside it (css px). */
const LINE_REACH_PX = { mouse: 5, touch: 14 } as const;
/** Least size of a target (css px). */
export const TARGET_PX = 44;

export interface Area {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Where a rectangle of the wall stands in the drawing (css px). */
export function areaOf({ along, up, width, height }: WallRect, frame: WallFrame): Area {
  return {
    left: frame.x(along),
    top: frame.y(up + height),
    width: width * frame.perMm,
    height: height * frame.perMm,
  };
}

/**
 * An area made large enough to be hit, about its middle.
 * @example widen({ left: 100, top: 100, width: 4, height: 80 }, 44) // { left: 80, top: 100, width: 44, height: 80 }
 */
export function widen({ left, top, width, height }: Area, leastPx: number): Area {
  const [moreX, moreY] = [Math.max(0, leastPx - width), Math.max(0, leastPx - height)];
  return { left: left - moreX / 2, top: top - moreY / 2, width: width + moreX, height: height + moreY };
}

const allHandles: readonly Handle[] = ([-1, 0, 1] as const).flatMap((along) =>
  ([-1, 0, 1] as const).map((up) => ({ along, up })),
);

/**
 * The handles of an opening or box, with where each is held (css px): on the corners, and on edges that leave a thumb's room between
 * them; round something small they stand off, so that it can still be taken in its middle.
 */
export function listHandles(
  thing: Thing,
  frame: WallFrame,
): { readonly handle: Handle; readonly at: Spot }[] {
  if (!canSize(thing)) return [];
  const area = areaOf(thing.rect, frame);
  const ring = widen(area, 2 * TARGET_PX);
  const place = (share: -1 | 0 | 1, start: number, size: number) => start + ((share + 1) / 2) * size;
  return allHandles
    .filter(
      ({ along, up }) => (along !== 0 || up !== 0) && hasRoom(along, area.width) && hasRoom(up, area.height),
    )
    .map((handle) => ({
      handle,
      at: {
        x: place(handle.along, ring.left, ring.width),
        y: place(-handle.up as -1, ring.top, ring.height),
      },
    }));
}

/** Whether the middle of an edge is far enough from both its corners. */
const hasRoom = (share: number, sizePx: number) => share !== 0 || sizePx >= 3 * TARGET_PX;

const apart = (value: number, start: number, size: number) =>
  Math.max(start - value, 0, value - (start + size));

/** How far a spot is from an area (css px), 0 within it. */
function apartPx({ x, y }: Spot, { left, top, width, height }: Area): number {
  return Math.hypot(apart(x, left, width), apart(y, top, height));
}

const isSmall = ({ width, height }: Area) => width < TARGET_PX && height < TARGET_PX;

/**
 * What a press at a spot (css px) means: a handle of the chosen thing, the chosen thing, else the nearest small thing, then a line, then
 * the opening it lies in. Null: the bare wall.
 */
export function reachGrip(
  things: readonly Thing[],
  chosen: Thing | null,
  at: Spot,
  frame: WallFrame,
  by: 'mouse' | 'touch',
): Grip | null {
  const reachPx = REACH_PX[by];
  const handles = chosen ? listHandles(chosen, frame) : [];
  const [handle] = handles
    .map((each) => ({ ...each, px: Math.hypot(each.at.x - at.x, each.at.y - at.y) }))
    .filter(({ px }) => px <= reachPx)
    .sort((a, b) => a.px - b.px);
  if (chosen && handle) return { thing: chosen, handle: handle.handle };
  const known = things.map((thing) => {
    const area = areaOf(thing.rect, frame);
    const rank = isSmall(area) ? 0 : thing.kind === 'line' ? 1 : 2;
    const reach = thing.kind === 'line' && thing.key !== chosen?.key ? LINE_REACH_PX[by] : reachPx;
    // the middle counts for what is small: several of them may lie under one thumb
    const px = rank === 0 ? apartPx(at, { ...middleOf(area), width: 0, height: 0 }) : apartPx(at, area);
    return { thing, rank: thing.key === chosen?.key ? -1 : rank, px, isIn: px <= (rank === 2 ? 0 : reach) };
  });
  const [best] = known.filter(({ isIn }) => isIn).sort((a, b) => a.rank - b.rank || a.px - b.px);
  return best ? { thing: best.thing, handle: null } : null;
}

function middleOf({ left, top, width, height }: Area) {
  return { left: left + width / 2, top: top + height / 2 };
}
