import { deletePoint } from '../../app/erasePoints.ts';
import { runAxis } from '../../app/editPhoto.ts';
import { acceptSuspects, leaveOutPoints, restorePoint } from '../../app/editPoints.ts';
import { deleteMark } from '../../app/editMarks.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import { erasedTo, movedPush } from './brush.ts';
import { LINE_TOOLS, SUSPECTS_KEY, takeLineTool } from './lineTools.ts';
import { listSuspects, nearestAlong, nextStretch, type Stretch } from './reach.ts';
import { commitLive } from './tools.ts';
import { clampPoint, frameMiddle, pointOfSpot, revealPoint } from './view.ts';
import type { Live, Work } from './work.svelte.ts';

/** One press of an arrow key moves what is chosen by so much (px); with Shift by `FAST` times that. */
export const NUDGE_PX = 0.25;
const FAST = 8;
/** One press moves the picture, or the place where the keys are, by so much (css px). */
const PAN_PX = 60;
const CURSOR_PX = 12;

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

const KEYS: Readonly<Record<string, (work: Work) => void>> = {
  '+': (work) => work.zoom(1.5),
  '=': (work) => work.zoom(1.5),
  '-': (work) => work.zoom(1 / 1.5),
  '0': (work) => work.showWhole(),
  z: (work) => work.chosenAt && work.showClose(work.chosenAt),
  n: (work) => stepSuspect(work, 1),
  p: (work) => stepSuspect(work, -1),
  '.': (work) => stepPoint(work, 1),
  ',': (work) => stepPoint(work, -1),
  a: (work) => acceptChosen(work),
  o: switchChosen,
  h: (work) => (work.pointsShown = !work.pointsShown),
  '[': (work) => work.resizeBrush(-1),
  ']': (work) => work.resizeBrush(1),
  ...Object.fromEntries(LINE_TOOLS.map(({ key, tool }) => [key, (work: Work) => takeLineTool(work, tool)])),
  [SUSPECTS_KEY]: showSuspects,
  Delete: deleteChosen,
  Backspace: deleteChosen,
  Escape: stopAll,
  Enter: placeHere,
};

/** Does what a key pressed on the picture means; false when it means nothing here. */
export function pressKey(work: Work, key: string, shift: boolean): boolean {
  const arrow = ARROWS[key];
  if (arrow) nudge(work, arrow, shift);
  else {
    const does = KEYS[key.length === 1 ? key.toLowerCase() : key];
    if (!does) return false;
    does(work);
  }
  return true;
}

/** An arrow key came up, or the picture lost the keys: what they moved is one change of the survey. */
export function releaseKey(work: Work): void {
  const { live } = work;
  if (live && ['point', 'mark', 'draft', 'push'].includes(live.kind)) commitLive(work, live);
}

/** Moves what is chosen by a step of the arrow keys (px of the picture), before it is let go. */
function nudge(work: Work, [right, down]: readonly [number, number], shift: boolean): void {
  const { live, draft, chosen, chosenAt, tool, view } = work;
  const step = NUDGE_PX * (shift ? FAST : 1);
  const by = (at: ImagePoint, stepPx: number) =>
    clampPoint({ u: at.u + right * stepPx, v: at.v + down * stepPx }, work.picture);
  if (tool === 'pick' && chosen && chosenAt) {
    if (chosen.kind === 'point' && work.busy) return;
    work.live = { kind: chosen.kind, index: chosen.index, at: by(chosenAt, step) };
    reveal(work, work.live.at);
  } else if (tool === 'mark' && draft) {
    work.live = { kind: 'draft', at: by(live?.at ?? draft, step) };
    reveal(work, work.live.at);
  } else if (tool === 'push') nudgePush(work, [right, down], step);
  else if (tool === 'pick') work.pan({ x: -right * PAN_PX, y: -down * PAN_PX });
  else {
    work.cursor = by(work.cursor ?? middleOf(work), shift ? NUDGE_PX : CURSOR_PX / view.scale);
    reveal(work, work.cursor);
    if (live?.kind === 'stretch') work.live = { ...live, at: work.cursor };
  }
}

/** Pushes the stretch about the chosen point across the line; along the line, goes to the neighbouring point. */
function nudgePush(work: Work, [right, down]: readonly [number, number], step: number): void {
  const { line, live } = work;
  if (!line || work.busy || line.points.length === 0) return;
  const run = runAxis(line.sheet.axis);
  if (work.chosen?.kind !== 'point')
    work.choose('point', nearestAlong(line.points, middleOf(work)[run], run));
  const along = run === 'u' ? right : down;
  if (along !== 0) {
    if (live) commitLive(work, live);
    return stepAlong(work, along > 0 ? 1 : -1);
  }
  const held = live?.kind === 'push' ? live : null;
  const from = held?.from ?? work.chosenAt!;
  const at = held?.at ?? from;
  const to = clampPoint({ u: at.u + right * step, v: at.v + down * step }, work.picture);
  work.live = movedPush(work, { kind: 'push', from, at }, to);
  reveal(work, to);
}

/** Chooses the neighbour of the chosen point to the right or below (1), or to the left or above (-1). */
export function stepAlong(work: Work, step: 1 | -1): void {
  const points = work.line?.points ?? [];
  const run = runAxis(work.line?.sheet.axis ?? 'level');
  const falling = points.length > 1 && points[0]![run] > points[points.length - 1]![run];
  stepPoint(work, falling ? (-step as 1 | -1) : step);
}

/** Moves what is chosen by one step, as one change: the buttons that stand for the arrow keys. */
export function nudgeOnce(work: Work, key: string): void {
  const arrow = ARROWS[key];
  if (arrow) nudge(work, arrow, false);
  releaseKey(work);
}

/** Enter: places a point or mark where the keys are; begins a stretch there, and ends it. */
function placeHere(work: Work): void {
  const { tool, live, cursor } = work;
  if (tool === 'pick' || tool === 'push' || (tool === 'mark' && work.draft)) return;
  const at = cursor ?? middleOf(work);
  work.cursor = at;
  if (tool === 'erase') return commitLive(work, erasedTo(work, null, at));
  if (tool !== 'gap' && tool !== 'mask' && tool !== 'block') return commitLive(work, { kind: 'place', at });
  const begun: Live = { kind: 'stretch', from: at, at };
  if (live?.kind === 'stretch') commitLive(work, live);
  else work.live = begun;
}

/** Chooses the first point of the next stretch of suspects and shows it close. */
export function stepSuspect(work: Work, step: 1 | -1): void {
  const from = work.chosen?.kind === 'point' ? work.chosen.index : step > 0 ? -1 : Infinity;
  const stretch = nextStretch(listSuspects(work.line?.points ?? []), from, step);
  if (!stretch) return;
  work.choose('point', stretch.first);
  if (work.chosenAt) work.showClose(work.chosenAt);
}

/** Puts the tool down and goes to the first suspect; the panel with what can be done about it shows. */
export function showSuspects(work: Work): void {
  takeLineTool(work, 'pick');
  stepSuspect(work, 1);
}

/** Chooses the neighbour of the chosen point, or the line's first. */
function stepPoint(work: Work, step: 1 | -1): void {
  const count = work.line?.points.length ?? 0;
  const from = work.chosen?.kind === 'point' ? work.chosen.index : -step;
  const index = Math.min(count - 1, Math.max(0, from + step));
  work.choose('point', index);
  if (work.chosenAt) reveal(work, work.chosenAt);
}

/** Takes the chosen suspect, or the whole stretch it is in, as right and goes on to the next. */
export function acceptChosen(work: Work, whole = false): void {
  const stretch = chosenStretch(work, whole);
  if (!stretch) return;
  work.change(acceptSuspects(work.survey, work.photo.id, work.line!.id, stretch.first, stretch.last));
  stepSuspect(work, 1);
}

/** Leaves the whole stretch of suspects that the chosen one is in out, and goes on to the next. */
export function leaveStretchOut(work: Work): void {
  const stretch = chosenStretch(work, true);
  if (!stretch) return;
  work.change(leaveOutPoints(work.survey, work.photo.id, work.line!.id, stretch.first, stretch.last));
  stepSuspect(work, 1);
}

function chosenStretch(work: Work, whole: boolean): Stretch | null {
  const index = chosenPoint(work);
  if (index === null) return null;
  const stretch = listSuspects(work.line!.points).find(({ first, last }) => first <= index && index <= last);
  return stretch ? (whole ? stretch : { first: index, last: index }) : null;
}

/** Leaves the chosen point out, or uses it again. */
export function switchChosen(work: Work): void {
  const index = chosenPoint(work);
  if (index === null) return;
  const { survey, photo, line } = work;
  if (line!.points[index]!.state === 'off') work.change(restorePoint(survey, photo.id, line!.id, index));
  else work.change(leaveOutPoints(survey, photo.id, line!.id, index, index));
}

/** Takes the chosen mark away, or the chosen point, and chooses the point that comes after it. */
export function deleteChosen(work: Work): void {
  const { chosen, survey, photo, line } = work;
  if (chosen?.kind === 'mark') {
    work.change(deleteMark(survey, photo.id, chosen.index));
    work.chooseNone();
  } else if (line && chosenPoint(work) !== null) {
    work.change(deletePoint(survey, photo.id, line.id, chosen!.index));
    work.choose('point', Math.min(chosen!.index, line.points.length - 2));
  }
}

/** Escape: gives up what is going on; then puts the tool down; then chooses nothing. */
function stopAll(work: Work): void {
  if (work.live) work.live = null;
  else if (work.draft) work.draft = null;
  else if (work.tool !== 'pick') work.takeTool('pick');
  else work.chooseNone();
}

function chosenPoint(work: Work): number | null {
  return work.chosen?.kind === 'point' && work.line && !work.busy ? work.chosen.index : null;
}

function middleOf(work: Work): ImagePoint {
  const middle = frameMiddle(work.frame);
  return clampPoint(pointOfSpot(work.view, middle), work.picture);
}

function reveal(work: Work, at: ImagePoint): void {
  work.view = revealPoint(work.view, at, 24, work.picture, work.frame);
}
