import type { Dab } from '../../liningPlan.ts';
import type { Board } from '../../results.ts';
import type { Wall } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';
import { coversSides, growSides, sidesOf, type Sides } from '../rects.ts';
import { clipToBoard, endsOver } from './boardFace.ts';
import { cutBand } from './spans.ts';

/** A continuous strip of adhesive, straight, along `axis`; `inward`: the side away from the edge that it follows. */
export interface Strip {
  readonly kind: Exclude<Dab['kind'], 'dab'>;
  readonly sides: Sides;
  readonly axis: 'along' | 'up';
  readonly inward: keyof Sides;
}

/** A strip thinner than this is not laid (mm), and one that follows a sloping edge goes up in steps of at most this. */
const leastMm = 10;

/** Width of a strip (mm). */
const measureAcross = ({ sides: { left, right, bottom, top }, axis }: Strip) =>
  axis === 'along' ? top - bottom : right - left;

/** Whether a cut-out was made for a box: it is hardly larger than the box. */
const isBoxHole = (cutout: Sides, wall: Wall) =>
  wall.boxes.some((box) => coversSides(growSides(sidesOf(box), 15), cutout));

/** Cut-outs with the room that adhesive keeps from them. */
export function blockCutouts(board: Board, wall: Wall, settings: LiningSettings): Sides[] {
  return board.cutouts
    .map(sidesOf)
    .map((cutout) =>
      growSides(cutout, isBoxHole(cutout, wall) ? settings.boxStripGapMm : settings.dabEdgeMm),
    );
}

/** Four straight bands round a rectangle, `gapMm` from it; those below and above reach round the corners. */
function ringRound(rect: Sides, gapMm: number, widthMm: number, kind: Strip['kind']): Strip[] {
  const inner = growSides(rect, gapMm);
  const outer = growSides(inner, widthMm);
  return [
    { kind, sides: { ...outer, top: inner.bottom }, axis: 'along', inward: 'bottom' },
    { kind, sides: { ...outer, bottom: inner.top }, axis: 'along', inward: 'top' },
    { kind, sides: { ...inner, left: outer.left, right: inner.left }, axis: 'up', inward: 'left' },
    { kind, sides: { ...inner, left: inner.right, right: outer.right }, axis: 'up', inward: 'right' },
  ];
}

/** An opening as a board meets it: drawn out to the board's edge over a gap too small to board. */
function reachBoard(opening: Sides, board: Board, settings: LiningSettings): Sides {
  const face = sidesOf(board);
  const near = (gapMm: number) => gapMm > 0 && gapMm < settings.leastPieceMm;
  return {
    left: near(opening.left - face.right) ? face.right : opening.left,
    right: near(face.left - opening.right) ? face.left : opening.right,
    bottom: near(opening.bottom - face.top) ? face.top : opening.bottom,
    top: near(face.bottom - opening.top) ? face.bottom : opening.top,
  };
}

/** Which edges of a board meet neither another board nor an opening: those at the wall's ends, floor and ceiling. */
function findFreeEdges(board: Board, boards: readonly Board[], wall: Wall, { leastPieceMm }: LiningSettings) {
  const face = sidesOf(board);
  const others = [...boards.filter(({ id }) => id !== board.id), ...wall.openings].map(sidesOf);
  const overlaps = (other: Sides, level: boolean) =>
    level
      ? other.left < face.right - 1 && other.right > face.left + 1
      : other.bottom < face.top - 1 && other.top > face.bottom + 1;
  const isNear = (gapMm: number) => Math.abs(gapMm) < leastPieceMm;
  return {
    bottom: !others.some((other) => overlaps(other, true) && isNear(face.bottom - other.top)),
    top: !others.some((other) => overlaps(other, true) && isNear(other.bottom - face.top)),
    left: !others.some((other) => overlaps(other, false) && isNear(face.left - other.right)),
    right: !others.some((other) => overlaps(other, false) && isNear(other.left - face.right)),
  };
}

/** The band along a board's bottom or top edge, in as many level steps as its slope asks for. */
function followEnd(
  board: Board,
  end: 'bottom' | 'top',
  { dabEdgeMm, stripWidthMm }: LiningSettings,
): Sides[] {
  const [first, last] = [board.along + dabEdgeMm, board.along + board.width - dabEdgeMm];
  if (last <= first) return [];
  const heightAt = (along: number) => endsOver(board, along, along)[end];
  const rise = Math.abs(heightAt(last) - heightAt(first));
  const steps = board.outline ? Math.max(1, Math.ceil(rise / leastMm), board.outline.length - 3) : 1;
  return Array.from({ length: steps }, (_, k) => {
    const left = first + ((last - first) * k) / steps;
    const right = first + ((last - first) * (k + 1)) / steps;
    const { bottom, top } = endsOver(board, left, right);
    return end === 'bottom'
      ? { left, right, bottom: bottom + dabEdgeMm, top: bottom + dabEdgeMm + stripWidthMm }
      : { left, right, bottom: top - dabEdgeMm - stripWidthMm, top: top - dabEdgeMm };
  });
}

/**
 * The continuous strips of adhesive behind a board, none over another: along the bottom edge at the floor, all round where it meets
 * the wall's ends and the ceiling if that is asked for, and round openings and boxes as far as the board reaches.
 * Source: continuous at the bottom, UK specification clause (after BS 8212); round openings and boxes, common practice, from memory.
 */
export function layStrips(
  board: Board,
  boards: readonly Board[],
  wall: Wall,
  settings: LiningSettings,
): Strip[] {
  const { dabEdgeMm, stripWidthMm, boxStripMm, boxStripGapMm } = settings;
  const free = findFreeEdges(board, boards, wall, settings);
  const face = sidesOf(board);
  const wanted: Strip[] = [];
  const along = (end: 'bottom' | 'top', kind: Strip['kind'], inward: keyof Sides) =>
    followEnd(board, end, settings).map((sides): Strip => ({ kind, sides, axis: 'along', inward }));
  if (free.bottom) wanted.push(...along('bottom', 'bottom', 'top'));
  if (settings.sealAllRound > 0) {
    const [left, right] = [face.left + dabEdgeMm, face.right - dabEdgeMm];
    if (free.top) wanted.push(...along('top', 'edge', 'bottom'));
    if (free.left)
      wanted.push({
        kind: 'edge',
        sides: { ...face, left, right: left + stripWidthMm },
        axis: 'up',
        inward: 'right',
      });
    if (free.right)
      wanted.push({
        kind: 'edge',
        sides: { ...face, left: right - stripWidthMm, right },
        axis: 'up',
        inward: 'left',
      });
  }
  for (const opening of wall.openings)
    wanted.push(
      ...ringRound(reachBoard(sidesOf(opening), board, settings), dabEdgeMm, stripWidthMm, 'round_opening'),
    );
  for (const box of wall.boxes)
    wanted.push(...ringRound(sidesOf(box), boxStripGapMm, boxStripMm, 'round_box'));
  const cutouts = blockCutouts(board, wall, settings);
  const laid: Strip[] = [];
  for (const strip of wanted) {
    const inside = clipToBoard(board, strip.sides, dabEdgeMm);
    if (!inside) continue;
    const holes = [...cutouts, ...laid.map((each) => each.sides)];
    const parts = cutBand(inside, holes, strip.axis, leastMm).map((sides) => ({ ...strip, sides }));
    // What is left of a strip that is for the next board to have is not laid.
    const least = Math.max(leastMm, measureAcross(strip) / 2);
    const isWorth = ({ left, right, bottom, top }: Sides) => Math.min(right - left, top - bottom) >= least;
    laid.push(...parts.filter(({ sides }) => isWorth(sides)));
  }
  return laid;
}
