import type { MeasuredStretch } from '../core/line/linePoints.ts';
import type { PathPiece } from '../core/line/pieces.ts';
import { refineCourse } from '../core/line/course.ts';
import {
  choosePlacing,
  likelyCourse,
  placeColumns,
  sharpenPlacement,
  type PlacingChannel,
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
/** A glance keeps runs of this many columns. */
const LEAST_COLUMNS = 2;
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

/** A piece of a path looked at every few columns only: its course at every px, its width and what to place it by. */
export interface Glance {
  /** Its columns lie `step` px apart from `stretch.from`. */
  readonly stretch: MeasuredStretch;
  readonly step: number;
  readonly course: Float64Array;
  readonly widthPx: number;
  readonly channel: PlacingChannel;
}

/**
 * Looks at one piece of a path in the full-size picture, in a band round it and a little beyond its ends, every `step` px
 * along it.
 */
export function glanceStretch(
  picture: Picture,
  axis: LineAxis,
  colour: LaserColour,
  piece: PathPiece,
  step: number,
): Glance {
  const alongCount = axis === 'level' ? picture.widthPx : picture.heightPx;
  const from = Math.max(0, (piece.from - 2) * step);
  const count = Math.min(alongCount, (piece.to + 3) * step) - from;
  const firstWidth = Math.max(FIRST_WIDTH_PX, 2 * step);
  const rough = readCourse(piece, step, from, step, Math.ceil(count / step));
  const reach = profileReach(firstWidth) + step + 3;
  const band = cutBand(picture, { axis, from, step, centre: rough }, reach, colour);
  const sizes = { searchPx: step + 3, widthPx: firstWidth, smoothingPx: 0 };
  const light = placeColumns(band, 'light', rough, sizes);
  const own = placeColumns(band, 'own', rough, sizes);
  const channel = choosePlacing(band, light, own);
  const placement = channel === 'own' ? own : light;
  const likely = likelyCourse(band, placement, rough, sizes.searchPx);
  const reachColumns = Math.max(3, Math.round(MEDIAN_REACH_PX / step));
  const refined = refineCourse(likely, rough, reachColumns);
  const widest = (WIDEST_PX * Math.max(picture.widthPx, picture.heightPx)) / 1000;
  return {
    stretch: { from, placement, presence: findPresence(band, placement, refined, LEAST_COLUMNS) },
    step,
    course: interpolateSteps(refined, step, count),
    widthPx: Math.min(widest, Number.isNaN(placement.widthPx) ? firstWidth : placement.widthPx),
    channel,
  };
}

/** Measures a piece that was looked at, in every column. */
export function measureStretch(
  picture: Picture,
  axis: LineAxis,
  colour: LaserColour,
  glance: Glance,
): MeasuredStretch {
  const { course, widthPx, channel, step } = glance;
  const { from } = glance.stretch;
  const reach = profileReach(widthPx) + 3;
  const band = cutBand(picture, { axis, from, step: 1, centre: course }, reach, colour);
  const sizes = { searchPx: Math.max(2, 0.75 * widthPx), widthPx, smoothingPx: SMOOTHING_PX };
  const placed = placeColumns(band, channel, course, sizes);
  const placement = sharpenPlacement(band, placed, placed.course, sizes);
  return { from, placement, presence: findPresence(band, placement, placed.course, Math.max(4, 2 * step)) };
}
