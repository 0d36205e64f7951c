import { confidenceOf } from '../core/line/confidence.ts';
import { weighEvidence, type LineEvidence } from '../core/line/evidence.ts';
import type { FoundLine } from '../core/line/foundLine.ts';
import { gapsBetween, joinColumns, pointsOfColumns, stretchColumns } from '../core/line/linePoints.ts';
import { findPath, type LinePath } from '../core/line/path.ts';
import { splitPath } from '../core/line/pieces.ts';
import { isMasked, restrictMap, type Restriction } from '../core/line/restriction.ts';
import { countRivals, erasePath, strengthOnPath } from '../core/line/rivals.ts';
import { medianOf } from '../core/line/running.ts';
import { lineStrength, type BlockStrength, type FilteredChannels } from '../core/line/strength.ts';
import type { LaserColour, LineAxis } from '../core/survey.ts';
import { filterPicture } from './filteredPicture.ts';
import { measureStretch } from './measureLine.ts';
import type { OpenCv } from './opencv/types.ts';
import type { Picture } from './picture.ts';
import { reducePicture, reductionFactor, type ReducedPicture } from './reduced.ts';
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

/** One picture made ready to look for lines: reduced once, filtered once for each axis. */
export class LineSearch {
  /** Places this near to each other are one place when lines are compared (px). */
  readonly cellPx: number;
  private readonly reduced: ReducedPicture;
  private readonly filtered = new Map<LineAxis, readonly FilteredChannels[]>();

  constructor(
    private readonly cv: OpenCv,
    private readonly picture: Picture,
  ) {
    this.cellPx = Math.max(picture.widthPx, picture.heightPx) / 125;
    this.reduced = reducePicture(picture, reductionFactor(picture.widthPx, picture.heightPx));
  }

  /** The lines of one axis and colour that stand out most, at most two, whatever their confidence. */
  find(axis: LineAxis, colour: LaserColour, restriction: Restriction): Candidate[] {
    const map = lineStrength(this.filter(axis), colour);
    const openShare = restrictMap(map, axis, 2 * this.reduced.factor, restriction);
    const found: { path: LinePath; strength: number; rows: number[] }[] = [];
    for (let n = 0; n < LINES_EACH; n++) {
      const path = findPath(map);
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

  private filter(axis: LineAxis): readonly FilteredChannels[] {
    let levels = this.filtered.get(axis);
    if (!levels) {
      const turned = turnPicture(this.reduced, axis);
      colourCores(turned);
      levels = filterPicture(this.cv, turned);
      this.filtered.set(axis, levels);
    }
    return levels;
  }

  private measure(
    axis: LineAxis,
    colour: LaserColour,
    rows: readonly number[],
    restriction: Restriction,
    seen: { strength: number; rivals: number; openShare: number },
  ): Candidate | null {
    const { picture, reduced } = this;
    const measured = splitPath(rows, LEAST_PIECE_BLOCKS).map((piece) => {
      const stretch = measureStretch(picture, axis, colour, piece, 2 * reduced.factor);
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
      Math.max(3, reduced.factor),
    );
    const evidence = weighEvidence(
      kept.map(({ stretch }) => stretch),
      columns,
      {
        openPx: seen.openShare * (axis === 'level' ? picture.widthPx : picture.heightPx),
        longSidePx: Math.max(picture.widthPx, picture.heightPx),
        brightLevel: brightLevel(reduced, colour),
        strength: seen.strength,
        rivals: seen.rivals,
        pieces: gaps.length + 1,
      },
    );
    const line: FoundLine = {
      axis,
      colour,
      confidence: confidenceOf(evidence),
      points: points.filter((_, i) => open[i]),
      gaps,
    };
    return { line, evidence };
  }
}

/** Columns as weak as this between two rows or more apart only bridge a step. */
const BRIDGE_STRENGTH = 1.5;

/**
 * Rows of a path in blocks, moved to the stronger row of each block; -1 where there is no line or a step is
 * only bridged.
 */
function blockRows(rows: Int32Array, map: BlockStrength): number[] {
  return Array.from(rows, (y, x) => {
    if (y < 0) return -1;
    const steep = Math.abs(y - (rows[x - 1] ?? y)) > 1 || Math.abs(y - (rows[x + 1] ?? y)) > 1;
    if (steep && map.values[y * map.width + x]! < BRIDGE_STRENGTH) return -1;
    return y + (map.lower[y * map.width + x] ? 0.25 : -0.25);
  });
}

/** Value of the laser's own channel that only a twentieth of the picture is above. */
function brightLevel({ rgba }: ReducedPicture, colour: LaserColour): number {
  const counts = new Uint32Array(256);
  for (let k = colour === 'red' ? 0 : 1; k < rgba.length; k += 4) counts[rgba[k]!]!++;
  let above = rgba.length / 80;
  let level = 255;
  while (level > 1 && (above -= counts[level]!) > 0) level--;
  return level;
}
