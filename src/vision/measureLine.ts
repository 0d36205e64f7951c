import type { MeasuredStretch } from '../core/line/linePoints.ts';
import type { PathPiece } from '../core/line/pieces.ts';
import {
  choosePlacing,
  likelyCourse,
  placeColumns,
  refineCourse,
  sharpenPlacement,
} from '../core/line/placement.ts';
import { findPresence } from '../core/line/presence.ts';
import { profileReach } from '../core/line/profile.ts';
import type { LaserColour, LineAxis } from '../core/survey.ts';
import { cutBand } from './band.ts';
import type { Picture } from './picture.ts';

const FIRST_WIDTH_PX = 5;
/** Wider than this (per thousand of the picture's long side) is no laser line; keeps the band narrow. */
const WIDEST_PX = 6;
/**
 * Smoothing along the line before placing (sigma, px): "about 2 px", less than speckle and texture are long.
 */
const SMOOTHING_PX = 1.5;
/** The course is the median over this many px to either side. */
const MEDIAN_REACH_PX = 12;

/**
 * A stretch's rows in the reduced picture at `count` full-size places from + i * step, as across-coordinates
 * (px).
 */
function readCourse(
  piece: PathPiece,
  factor: number,
  from: number,
  step: number,
  count: number,
): Float64Array {
  const last = piece.rows.length - 1;
  return Float64Array.from({ length: count }, (_, i) => {
    const x = Math.min(last, Math.max(0, (from + i * step + 0.5) / factor - 0.5 - piece.from));
    const whole = Math.min(Math.floor(x), Math.max(0, last - 1));
    const next = piece.rows[whole + 1] ?? piece.rows[whole]!;
    return (piece.rows[whole]! + (x - whole) * (next - piece.rows[whole]!) + 0.5) * factor - 0.5;
  });
}

/** Values at every px between values given every `step` px. */
function interpolateSteps(values: Float64Array, step: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => {
    const whole = Math.min(Math.floor(i / step), values.length - 1);
    const next = Math.min(whole + 1, values.length - 1);
    return values[whole]! + (i / step - whole) * (values[next]! - values[whole]!);
  });
}

/**
 * Measures one piece of a path in the full-size picture, only in a band round it and a little beyond its
 * ends: first every few columns for the line's course, width and the channel to place it by, then every
 * column.
 */
export function measureStretch(
  picture: Picture,
  axis: LineAxis,
  colour: LaserColour,
  piece: PathPiece,
  factor: number,
): MeasuredStretch {
  const alongCount = axis === 'level' ? picture.widthPx : picture.heightPx;
  const from = Math.max(0, (piece.from - 2) * factor);
  const count = Math.min(alongCount, (piece.to + 3) * factor) - from;
  const firstWidth = Math.max(FIRST_WIDTH_PX, 2 * factor);
  const rough = readCourse(piece, factor, from, factor, Math.ceil(count / factor));
  const sparse = cutBand(
    picture,
    { axis, from, step: factor, centre: rough },
    profileReach(firstWidth) + factor + 3,
    colour,
  );
  const firstSizes = { searchPx: factor + 3, widthPx: firstWidth, smoothingPx: 0 };
  const light = placeColumns(sparse, 'light', rough, firstSizes);
  const own = placeColumns(sparse, 'own', rough, firstSizes);
  const channel = choosePlacing(sparse, light, own);
  const first = channel === 'own' ? own : light;
  const likely = likelyCourse(sparse, first, rough, firstSizes.searchPx);
  const reach = Math.max(3, Math.round(MEDIAN_REACH_PX / factor));
  const course = interpolateSteps(refineCourse(likely, rough, reach), factor, count);
  const widest = (WIDEST_PX * Math.max(picture.widthPx, picture.heightPx)) / 1000;
  const widthPx = Math.min(widest, Number.isNaN(first.widthPx) ? firstWidth : first.widthPx);
  const band = cutBand(picture, { axis, from, step: 1, centre: course }, profileReach(widthPx) + 3, colour);
  const sizes = { searchPx: Math.max(2, 0.75 * widthPx), widthPx, smoothingPx: SMOOTHING_PX };
  const placement = sharpenPlacement(band, placeColumns(band, channel, course, sizes), course, sizes);
  return { from, placement, presence: findPresence(band, placement, course, Math.max(4, 2 * factor)) };
}
