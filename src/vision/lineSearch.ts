import { confidenceOf } from '../core/line/confidence.ts';
import { weighEvidence, weighGlance, type LineEvidence } from '../core/line/evidence.ts';
import type { FoundLine } from '../core/line/foundLine.ts';
import { gapsBetween, joinColumns, pointsOfColumns, stretchColumns } from '../core/line/linePoints.ts';
import { findPath, PATH_COSTS, type LinePath } from '../core/line/path.ts';
import { reachBorders, splitPath } from '../core/line/pieces.ts';
import { confineToPins, PINNED_COSTS } from '../core/line/pins.ts';
import {
  corridorRows,
  isMasked,
  restrictMap,
  type Restriction,
  type Span,
} from '../core/line/restriction.ts';
import { countRivals, erasePath, strengthOnPath } from '../core/line/rivals.ts';
import { medianOf } from '../core/line/running.ts';
import { lineStrength, NOISE_REACH_PX, type BlockStrength, type OfColour } from '../core/line/strength.ts';
import type { LaserColour, LineAxis } from '../core/survey.ts';
import { smoothPicture } from './filteredPicture.ts';
import { glanceStretch, measureStretch } from './measureLine.ts';
import { subtractReduced } from './laserOff.ts';
import type { Picture } from './picture.ts';
import { reducePicture, reductionFactor, wholeRegion, type Region, type ReducedPicture } from './reduced.ts';
import { colourCores, turnPicture } from './turned.ts';

/** A line that was seen, and what its confidence was made of. */
export interface Candidate {
  readonly line: FoundLine;
  readonly evidence: LineEvidence;
}

/**
 * A path that earns less than this many full-strength columns is none; a second one must earn this share of
 * all.
 */
const LEAST_SCORE = 6;
const SECOND_SCORE = 0.15;
const LEAST_PIECE_BLOCKS = 3;
/** A piece whose colour is weaker than this share of the strongest piece's is not of the same line. */
const FAINT_SHARE = 0.2;
const LINES_EACH = 2;
/** Confidence under which a line at best can stay is not measured: well under what any search believes. */
const HOPELESS = 0.03;
/** Parts of the reduced picture begin at a multiple of this many px, so that all its smaller sizes do at a whole one. */
const BLOCKS_ALIGNED = 8;
/** A part larger than this share of the picture is not worth having. */
const MOST_OF_IT = 0.7;
/** Places along the long side at which the picture's brightness is looked at. */
const GRID_PLACES = 400;

/** One picture in which lines are looked for: reduced and searched for ridges once, or only where a line can be. */
export class LineSearch {
  /** Places this near to each other are one place when lines are compared (px). */
  readonly cellPx: number;
  private readonly factor: number;
  private readonly region: Region;
  private whole: ReducedPicture | null = null;
  private wholeOff: ReducedPicture | null = null;
  private readonly strengths = new Map<string, OfColour<BlockStrength>>();
  private readonly brightLevels: OfColour<number>;

  /** @throws picture_too_small under 32 px either way */
  constructor(private readonly picture: Picture) {
    this.cellPx = Math.max(picture.widthPx, picture.heightPx) / 125;
    this.factor = reductionFactor(picture.widthPx, picture.heightPx);
    this.region = wholeRegion(picture, this.factor);
    this.brightLevels = { red: brightLevel(picture, 'red'), green: brightLevel(picture, 'green') };
  }

  /** The lines of one axis and colour that stand out most, at most two (one through pins), whatever their confidence. */
  find(axis: LineAxis, colour: LaserColour, restriction: Restriction): Candidate[] {
    const seen = this.strength(axis, corridorRows(restriction.corridor, axis))[colour];
    const map = { ...seen, values: seen.values.slice() };
    const openShare = restrictMap(map, axis, 2 * this.factor, restriction);
    const pins = restriction.pins ?? [];
    if (pins.length > 0) confineToPins(map, axis, 2 * this.factor, pins);
    const found: { path: LinePath; strength: number; rows: number[] }[] = [];
    for (let n = 0; n < (pins.length > 0 ? 1 : LINES_EACH); n++) {
      const path = findPath(map, pins.length > 0 ? PINNED_COSTS : PATH_COSTS);
      if (path.score < (n === 0 ? LEAST_SCORE : SECOND_SCORE * map.width)) break;
      found.push({ path, strength: strengthOnPath(map, path.rows), rows: blockRows(path.rows, map) });
      erasePath(map, path.rows);
    }
    return found.flatMap(({ path, strength, rows }) => {
      const rivals = countRivals(map, strength, path.rows);
      const candidate = this.measure(axis, colour, rows, restriction, { strength, rivals, openShare });
      return candidate ? [candidate] : [];
    });
  }

  /** Strength of the whole picture, worked out only within the given rows across the line (px) and 0 elsewhere. */
  private strength(axis: LineAxis, rows: Span): OfColour<BlockStrength> {
    const across = axis === 'level' ? this.region.height : this.region.width;
    const place = (px: number, beyond: number) => (px / this.factor + beyond) / BLOCKS_ALIGNED;
    const from = Math.max(0, BLOCKS_ALIGNED * Math.floor(place(rows.from, -NOISE_REACH_PX)));
    const to = Math.min(across, BLOCKS_ALIGNED * Math.ceil(place(rows.to, NOISE_REACH_PX)));
    const all = to <= from || to - from > MOST_OF_IT * across;
    const key = all ? axis : `${axis} ${from} ${to}`;
    let strengths = this.strengths.get(key);
    if (!strengths) {
      const turned = turnPicture(all ? this.reduceWhole() : this.reducePart(axis, from, to), axis);
      colourCores(turned);
      strengths = lineStrength(smoothPicture(turned));
      if (!all) strengths = spreadStrengths(strengths, from / 2, (across + 1) >> 1);
      this.strengths.set(key, strengths);
    }
    return strengths;
  }

  private reduceWhole(): ReducedPicture {
    this.whole ??= this.reduceRegion(this.region);
    return this.whole;
  }

  private reducePart(axis: LineAxis, from: number, to: number): ReducedPicture {
    const part = axis === 'level' ? { top: from, height: to - from } : { left: from, width: to - from };
    return this.reduceRegion({ ...this.region, ...part });
  }

  /** A part of the picture reduced, less the same without the laser where there is a picture of that. */
  private reduceRegion(region: Region): ReducedPicture {
    const reduced = reducePicture(this.picture, this.factor, region);
    const { laserOff } = this.picture;
    if (!laserOff) return reduced;
    this.wholeOff ??= reducePicture(laserOff.picture, this.factor, this.region);
    subtractReduced(reduced, region, { ...laserOff, picture: this.wholeOff });
    return reduced;
  }

  private measure(
    axis: LineAxis,
    colour: LaserColour,
    rows: readonly number[],
    restriction: Restriction,
    seen: { strength: number; rivals: number; openShare: number },
  ): Candidate | null {
    const { picture, factor } = this;
    const context = {
      ...seen,
      openPx: seen.openShare * (axis === 'level' ? picture.widthPx : picture.heightPx),
      longSidePx: Math.max(picture.widthPx, picture.heightPx),
      brightLevel: this.brightLevels[colour],
      pieces: 1,
    };
    const step = 2 * factor;
    const glances = reachBorders(splitPath(rows, LEAST_PIECE_BLOCKS), rows.length).map((piece) =>
      glanceStretch(picture, axis, colour, piece, step),
    );
    const glanced = weighGlance(
      glances.map(({ stretch }) => stretch),
      step,
      context,
    );
    if (!(confidenceOf(glanced) > HOPELESS)) return null;
    const measured = glances.map((glance) => {
      const stretch = measureStretch(picture, axis, colour, glance);
      const columns = stretchColumns(stretch);
      return { stretch, columns, excess: medianOf(columns.map(({ excess }) => excess)) };
    });
    const strongest = measured.reduce((most, { excess }) => (excess > most ? excess : most), 0);
    const kept = measured.filter(({ excess }) => excess > FAINT_SHARE * strongest);
    const joined = joinColumns(kept.map(({ columns }) => columns));
    const points = pointsOfColumns(joined, axis);
    const open = points.map((point) => !isMasked(restriction.masks ?? [], point, 1));
    const columns = joined.filter((_, i) => open[i]);
    if (columns.length === 0) return null;
    const gaps = gapsBetween(
      columns.map(({ along }) => along),
      Math.max(3, factor),
    );
    const stretches = kept.map(({ stretch }) => stretch);
    const evidence = weighEvidence(stretches, columns, { ...context, pieces: gaps.length + 1 });
    const line: FoundLine = {
      axis,
      colour,
      confidence: confidenceOf(evidence),
      widthPx: (evidence.width * context.longSidePx) / 1000,
      points: points.filter((_, i) => open[i]),
      gaps,
    };
    return { line, evidence };
  }
}

/** Columns as weak as this between two rows or more apart only bridge a step. */
const BRIDGE_STRENGTH = 1.5;

/**
 * Rows of a path in blocks, moved towards the stronger row of each block; -1 where there is no line or a step is
 * only bridged.
 */
function blockRows(rows: Int32Array, map: BlockStrength): number[] {
  return Array.from(rows, (y, x) => {
    if (y < 0) return -1;
    const steep = Math.abs(y - (rows[x - 1] ?? y)) > 1 || Math.abs(y - (rows[x + 1] ?? y)) > 1;
    if (steep && map.values[y * map.width + x]! < BRIDGE_STRENGTH) return -1;
    return y + map.aside[y * map.width + x]!;
  });
}

/** Strengths of a part of the picture put in their place among `height` rows of blocks. */
function spreadStrengths(
  { red, green }: OfColour<BlockStrength>,
  first: number,
  height: number,
): OfColour<BlockStrength> {
  const spread = ({ width, values, aside }: BlockStrength): BlockStrength => {
    const whole = {
      width,
      height,
      values: new Float32Array(width * height),
      aside: new Float32Array(width * height),
    };
    const count = Math.min(values.length, (height - first) * width);
    whole.values.set(values.subarray(0, count), first * width);
    whole.aside.set(aside.subarray(0, count), first * width);
    return whole;
  };
  return { red: spread(red), green: spread(green) };
}

/** Value of the laser's own channel that only a twentieth of the picture is above, by a grid of its pixels. */
function brightLevel({ rgba, widthPx, heightPx }: Picture, colour: LaserColour): number {
  const counts = new Uint32Array(256);
  const step = Math.ceil(Math.max(widthPx, heightPx) / GRID_PLACES);
  let total = 0;
  for (let y = step >> 1; y < heightPx; y += step)
    for (let x = step >> 1; x < widthPx; x += step, total++)
      counts[rgba[4 * (y * widthPx + x) + (colour === 'red' ? 0 : 1)]!]!++;
  let above = total / 20;
  let level = 255;
  while (level > 1 && (above -= counts[level]!) > 0) level--;
  return level;
}
