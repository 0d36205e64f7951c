import { addBlock } from '../../app/editBlocks.ts';
import { addMask, addPin } from '../../app/editLines.ts';
import { markGap } from '../../app/editGaps.ts';
import { moveMark } from '../../app/editMarks.ts';
import { runAxis } from '../../app/editPhoto.ts';
import { addPoint, movePoint } from '../../app/editPoints.ts';
import { erasePoints } from '../../app/erasePoints.ts';
import { pushPoints } from '../../app/pushPoints.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import { discReachPx, erasedTo, movedPush, pushOf } from './brush.ts';
import type { GestureTarget, Hold } from './gestures.ts';
import { nearestPoint, REACH_PX } from './reach.ts';
import { clampPoint, fitView, pointOfSpot, spotOfPoint, type Spot } from './view.ts';
import type { Live, Work } from './work.svelte.ts';

/** A stretch shorter than this is a slip of the finger (css px). */
const LEAST_STRETCH_PX = 4;

/** What fingers on the picture do to the desk, by the tool that is taken. */
export class Tools implements GestureTarget {
  private grip: { readonly spot: Spot; readonly at: ImagePoint } | null = null;

  constructor(private readonly work: Work) {}

  hold(at: Spot): Hold {
    const { work } = this;
    if (work.tool === 'mark') return work.draft && this.near(at, work.draft) ? 'drag' : 'now';
    if (work.tool === 'mask' || work.tool === 'measure') return 'now';
    if (work.tool === 'push') return this.gripped(at) ? 'now' : null;
    if (work.tool !== 'pick') return work.line && !work.busy ? 'now' : null;
    const held = work.chosen;
    if (!held || !work.chosenAt || (held.kind === 'point' && work.busy)) return null;
    return this.near(at, work.chosenAt) ? 'drag' : null;
  }

  begin(at: Spot): void {
    const { work } = this;
    const place = this.placeOf(at);
    const { chosen, chosenAt, draft, tool } = work;
    if (tool === 'mark' && draft && this.near(at, draft)) {
      this.grip = { spot: at, at: draft };
      work.live = { kind: 'draft', at: draft };
    } else if (tool === 'pick' && chosen && chosenAt) {
      this.grip = { spot: at, at: chosenAt };
      work.live = { kind: chosen.kind, index: chosen.index, at: chosenAt };
    } else if (tool === 'push') {
      const from = this.gripped(at);
      if (!from) return;
      this.grip = { spot: at, at: from };
      work.live = { kind: 'push', from, at: from };
    } else if (tool === 'erase') work.live = erasedTo(work, null, place);
    else if (tool === 'gap' || tool === 'mask' || tool === 'block')
      work.live = { kind: 'stretch', from: place, at: place };
    else work.live = { kind: 'place', at: place };
  }

  move(at: Spot): void {
    const { work } = this;
    const { live } = work;
    if (!live) return;
    const place = this.placeOf(at);
    if (live.kind === 'push') work.live = movedPush(work, live, place);
    else if (live.kind === 'erase') work.live = erasedTo(work, live, place);
    else work.live = { ...live, at: place };
  }

  end(at: Spot): void {
    this.move(at);
    const { live, snapped } = this.work;
    this.cancel();
    // a drag ends on the graduation that was shown; a place is snapped when it is taken
    if (live && snapped && (live.kind === 'mark' || live.kind === 'draft'))
      return commitLive(this.work, { ...live, at: snapped });
    if (live) commitLive(this.work, live);
  }

  cancel(): void {
    this.grip = null;
    this.work.live = null;
  }

  tap(at: Spot): void {
    const { tool } = this.work;
    if (tool === 'pick' || tool === 'push') pickNearest(this.work, pointOfSpot(this.work.view, at));
  }

  tapTwice(at: Spot): void {
    const { work } = this;
    if (work.view.scale > fitView(work.picture, work.frame).scale * 1.001) work.showWhole();
    else work.showClose(pointOfSpot(work.view, at));
  }

  pan(by: Spot): void {
    this.work.pan(by);
  }

  pinch(from: Spot, to: Spot, factor: number): void {
    this.work.zoom(factor, from, to);
  }

  /** The image point that the finger stands for: a thing taken hold of keeps its distance from the finger. */
  private placeOf(spot: Spot): ImagePoint {
    const { view, picture } = this.work;
    if (!this.grip) return clampPoint(pointOfSpot(view, spot), picture);
    const { at, spot: from } = this.grip;
    const moved = { u: at.u + (spot.x - from.x) / view.scale, v: at.v + (spot.y - from.y) / view.scale };
    return clampPoint(moved, picture);
  }

  /** The point of the line that a press takes hold of to push; null where none is in reach. */
  private gripped(at: Spot): ImagePoint | null {
    const { line, busy, view, pointsShown } = this.work;
    if (!line || busy || !pointsShown) return null;
    const point = nearestPoint(line.points, pointOfSpot(view, at), REACH_PX / view.scale);
    return point && line.points[point.index]!;
  }

  private near(at: Spot, point: ImagePoint): boolean {
    const spot = spotOfPoint(this.work.view, point);
    return Math.hypot(spot.x - at.x, spot.y - at.y) <= REACH_PX;
  }
}

/** Ends what a gesture or the keys were doing: one change of the survey. */
export function commitLive(work: Work, live: Live): void {
  const { survey, photo, line } = work;
  const snapped = live.kind === 'place' && work.tool === 'mark' ? snapOf(work, live) : null;
  work.live = null;
  if (live.kind === 'mark') work.change(moveMark(survey, photo.id, live.index, live.at));
  else if (live.kind === 'draft') work.draft = { ...work.draft!, ...live.at };
  else if (live.kind === 'place' && work.tool === 'mark') work.placeMark(live.at, snapped);
  else if (live.kind === 'place' && work.tool === 'measure') commitPlace(work, live.at);
  else if (live.kind === 'stretch' && work.tool === 'mask') commitMask(work, live.from, live.at);
  else if (!line || work.busy) return;
  else if (live.kind === 'stretch') {
    const run = runAxis(line.sheet.axis);
    const [from, to] = [live.from[run], live.at[run]];
    if (Math.abs(to - from) * work.view.scale < LEAST_STRETCH_PX) return;
    work.chooseNone();
    if (work.tool !== 'block') work.change(markGap(survey, photo.id, line.id, from, to));
    else if (work.packerMm !== null) {
      work.change(addBlock(survey, photo.id, line.id, from, to, work.packerMm));
      work.takeTool('pick');
    }
  } else if (live.kind === 'push') {
    work.change(pushPoints(survey, photo.id, line.id, pushOf(work, live)));
    work.choose('point', line.points.findIndex(isAlong(live.from, runAxis(line.sheet.axis))));
  } else if (live.kind === 'erase') {
    const path = [...live.path, live.at];
    work.change(erasePoints(survey, photo.id, line.id, path, discReachPx(work)));
  } else if (live.kind === 'point') {
    work.change(movePoint(survey, photo.id, line.id, live.index, live.at));
    chooseAt(work, live.at);
  } else if (work.tool === 'pin') {
    work.takeTool('pin');
    work.follow(addPin(survey, photo.id, line.id, live.at), line.id);
  } else {
    work.change(addPoint(survey, photo.id, line.id, live.at));
    chooseAt(work, live.at);
  }
}

/** The graduation that a place means, also where the keys put it. */
function snapOf(work: Work, live: Live): ImagePoint | null {
  work.live = live;
  return work.snapped;
}

/** The first or second of two places to measure between; a third begins anew. */
function commitPlace(work: Work, at: ImagePoint): void {
  const { span } = work;
  work.span = span && !span.to ? { from: span.from, to: at } : { from: at, to: null };
}

function commitMask(work: Work, from: ImagePoint, to: ImagePoint): void {
  const [width, height] = [to.u - from.u, to.v - from.v];
  if (Math.min(Math.abs(width), Math.abs(height)) * work.view.scale < LEAST_STRETCH_PX) return;
  work.change(addMask(work.survey, work.photo.id, { u: from.u, v: from.v, width, height }));
}

/** Whether a point is at the same place along the run as another. */
const isAlong = (at: ImagePoint, run: 'u' | 'v') => (point: ImagePoint) => point[run] === at[run];

/** Chooses the point that was just set: it may have changed its number. */
function chooseAt(work: Work, at: ImagePoint): void {
  const points = work.line?.points ?? [];
  work.choose(
    'point',
    points.findIndex((point) => point.u === at.u && point.v === at.v),
  );
}

/** Chooses the mark or point nearest to an image point, of any line, or nothing where none is within reach. */
export function pickNearest(work: Work, at: ImagePoint): void {
  let reachPx = REACH_PX / work.view.scale;
  let pick = () => work.chooseNone();
  const mark = nearestPoint(work.photo.marks, at, reachPx);
  if (mark) {
    reachPx = mark.apartPx;
    pick = () => work.choose('mark', mark.index);
  }
  for (const line of work.pointsShown ? work.photo.lines : []) {
    const point = nearestPoint(line.points, at, reachPx);
    if (!point) continue;
    reachPx = point.apartPx;
    pick = () => {
      work.chooseLine(line.id);
      work.choose('point', point.index);
    };
  }
  pick();
}
