import { wallFromImageOnSheet, type Camera } from '../camera/camera.ts';
import type { LensPrior } from '../camera/evidence.ts';
import { liesOnBlock, type SeenBlock } from '../camera/block.ts';
import { alongSheet, type KnownSheet } from '../camera/sheet.ts';
import { liesInGap, triangulateLine } from '../camera/triangulate.ts';
import type { Stretch } from '../line/stretch.ts';
import type { LaserLine, Mark, Photo, Reading, StepBlock, Survey, Wall, WallRect } from '../survey.ts';
import { TREND } from './observation.ts';
import { thinLine } from './thin.ts';

/** A photograph that takes part, with the camera it starts from and the index of its phone. */
export interface Station {
  readonly photo: Photo;
  /** The stand as far as it is believed. */
  readonly stand: Photo['stand'];
  readonly phone: number;
  readonly camera: Camera;
}

/** A photographed line that takes part: its station, its sheet as typed, and what is left of it after thinning. */
export interface SeenLine {
  readonly station: number;
  readonly line: LaserLine;
  readonly sheet: KnownSheet;
  /** Middle of the line (mm along it), where the sheet's tilt turns about. */
  readonly middleMm: number;
  readonly halfLengthMm: number;
  readonly stretches: readonly Stretch[];
}

/** A tape mark of a station. */
export interface StationMark {
  readonly station: number;
  readonly mark: Mark;
  /** Index in the photo's marks; -1 = made of a tape's graduations. */
  readonly index: number;
}

/** A packer under a line of the network. */
export interface StationBlock {
  /** Index of the line. */
  readonly line: number;
  readonly seen: SeenBlock;
}

/** Everything that is solved together. */
export interface Network {
  readonly phones: readonly LensPrior[];
  readonly stations: readonly Station[];
  readonly lines: readonly SeenLine[];
  readonly marks: readonly StationMark[];
  readonly readings: readonly Reading[];
  readonly blocks: readonly StationBlock[];
}

/** Unknowns of a station: along, up, out, rotation vector, log focal length (projection.ts without k1). */
export const STATION_UNKNOWNS = 7;
/**
 * Unknowns of a line: its sheet's shift (mm) and tilt (mm per mm along the line), and its strip's own relief (mm): how the narrow
 * strip under the line lies off the wall around it, as a line does that runs in a bed joint.
 */
export const LINE_UNKNOWNS = 3;

/** Index of a phone's k1 among the unknowns. */
export function indexLens(phone: number): number {
  return TREND + phone;
}

/** Index of a station's first unknown. */
export function indexStation(network: Network, station: number): number {
  return TREND + network.phones.length + STATION_UNKNOWNS * station;
}

/** Index of a line's shift; its tilt and its strip's relief follow. */
export function indexLine(network: Network, line: number): number {
  return indexStation(network, network.stations.length) + LINE_UNKNOWNS * line;
}

/** Number of all unknowns besides the field. */
export function countUnknowns(network: Network): number {
  return indexLine(network, network.lines.length);
}

/** Beyond the wall's ends by more than this a point is on something else (mm). */
const END_MM = 5;
/** A box or opening is known to about this; points so near to it say nothing of the wall (mm). */
const RECT_MARGIN_MM = 10;

/** Whether a place (mm) lies in a rectangle grown by a margin (mm). */
export function liesIn(rect: WallRect, along: number, up: number, marginMm: number): boolean {
  return (
    along > rect.along - marginMm &&
    along < rect.along + rect.width + marginMm &&
    up > rect.up - marginMm &&
    up < rect.up + rect.height + marginMm
  );
}

/** Whether a place (mm) on the sheet is on the wall at all: between its ends and in no opening. */
export function liesOnWall(wall: Wall, along: number, up: number): boolean {
  const inside =
    along >= -END_MM && up >= -END_MM && along <= wall.width + END_MM && up <= wall.height + END_MM;
  return inside && !wall.openings.some((opening) => liesIn(opening, along, up, 0));
}

/** A line as it takes part: points on the wall itself (not on boxes or packers, not in openings or gaps), thinned; null if none is left. */
export function prepareLine(
  wall: Wall,
  station: number,
  camera: Camera,
  line: LaserLine,
  blocks: readonly StepBlock[] = [],
): SeenLine | null {
  const found = triangulateLine(camera, line);
  const { axis, at } = line.sheet;
  const keep = Array.from(found.s.keys()).filter((k) => {
    const along = axis === 'level' ? found.s[k]! : at!;
    const up = axis === 'level' ? at! : found.s[k]!;
    const beside = [...wall.openings, ...wall.boxes];
    return (
      liesOnWall(wall, along, up) &&
      !beside.some((rect) => liesIn(rect, along, up, RECT_MARGIN_MM)) &&
      !liesInGap(line, found, k) &&
      !liesOnBlock(line, blocks, found, k)
    );
  });
  if (keep.length === 0) return null;
  const pick = (values: Float64Array) => Float64Array.from(keep, (k) => values[k]!);
  const suspicion = Float64Array.from(keep, (k) =>
    line.points[found.index[k]!]!.state === 'suspect' ? SUSPECT_SIGMAS : 1,
  );
  const stretches = thinLine({
    s: pick(found.s),
    out: pick(found.out),
    u: pick(found.u),
    v: pick(found.v),
    sigmaPx: pick(found.sigmaPx).map((sigma, k) => sigma * suspicion[k]!),
  });
  const sheet = { axis, at: at! };
  const places = stretches.map((stretch) => alongSheet(sheet, wallFromImageOnSheet(camera, stretch, sheet)));
  const from = Math.min(...places);
  const to = Math.max(...places);
  return { station, line, sheet, middleMm: (from + to) / 2, halfLengthMm: (to - from) / 2, stretches };
}

/** How much less a point marked suspect is believed. */
const SUSPECT_SIGMAS = 3;

/** The k1 known beforehand of each phone that took one of the photos; a phone not listed is one with an unknown lens. */
export function readLens(survey: Survey, phoneId: string): LensPrior {
  const lens = survey.phones.find((phone) => phone.id === phoneId)?.lens;
  return { k1: lens?.k1 ?? 0, sigma: lens?.sigma ?? LENS_SIGMA };
}

/** Prior sd of k1 of a phone nothing is known of (DEVELOPERS.md "One photograph"). */
const LENS_SIGMA = 0.01;
