import { wallFromImageOnSheet, type Camera } from '../camera/camera.ts';
import { liesOnBlock, type SeenBlock } from '../camera/block.ts';
import { alongSheet, type KnownSheet } from '../camera/sheet.ts';
import { liesInGap, triangulateLine } from '../camera/triangulate.ts';
import type { Stretch } from '../line/stretch.ts';
import type { LaserLine, Mark, Photo, Reading, Survey, Wall, WallRect } from '../survey.ts';
import { TREND } from './observation.ts';
import { thinLine } from './thin.ts';

/** What is known beforehand of a phone's lens: its radial terms k1 and k2 with their sigmas. */
export interface PhonePrior {
  readonly k1: number;
  readonly sigma: number;
  readonly k2: number;
  readonly k2Sigma: number;
}

/** Where a phone stood, with the camera it starts from and its index. */
export interface Station {
  /** The photographs taken from there, several where the phone was not moved in between, and the first of them. */
  readonly photos: readonly Photo[];
  readonly photo: Photo;
  /** The stand as measured for any of them. */
  readonly stand: Photo['stand'];
  readonly phone: number;
  readonly camera: Camera;
}

/** A photographed line that takes part: its photo, its station, its sheet as typed, and what is left of it after thinning. */
export interface SeenLine {
  readonly photo: Photo;
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
  readonly photo: Photo;
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
  readonly phones: readonly PhonePrior[];
  readonly stations: readonly Station[];
  readonly lines: readonly SeenLine[];
  readonly marks: readonly StationMark[];
  readonly readings: readonly Reading[];
  readonly blocks: readonly StationBlock[];
}

/** Unknowns of a station: along, up, out, rotation vector, log focal length (projection.ts without the lens). */
export const STATION_UNKNOWNS = 7;
/**
 * Unknowns of a line: its sheet's shift (mm) and tilt (mm per mm along the line), and its strip's own relief (mm): how the narrow
 * strip under the line lies off the wall around it, as a line does that runs in a bed joint.
 */
export const LINE_UNKNOWNS = 3;

/** Unknowns of a phone: k1 and k2. */
export const LENS_UNKNOWNS = 2;

/** Index of a phone's k1 among the unknowns; its k2 follows. */
export function indexLens(phone: number): number {
  return TREND + LENS_UNKNOWNS * phone;
}

/** Index of a station's first unknown. */
export function indexStation(network: Network, station: number): number {
  return indexLens(network.phones.length) + STATION_UNKNOWNS * station;
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
export const RECT_MARGIN_MM = 10;

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
  photo: Photo,
  line: LaserLine,
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
      !liesOnBlock(line, photo.blocks ?? [], found, k)
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
  return { photo, station, line, sheet, middleMm: (from + to) / 2, halfLengthMm: (to - from) / 2, stretches };
}

/** How much less a point marked suspect is believed. */
export const SUSPECT_SIGMAS = 3;

/** What is known beforehand of the lens of the phone that took a photo; a phone not listed is one with an unknown lens. */
export function readLens(survey: Survey, phoneId: string): PhonePrior {
  const lens = survey.phones.find((phone) => phone.id === phoneId)?.lens;
  const sigma = lens?.sigma ?? LENS_SIGMA;
  return {
    k1: lens?.k1 ?? 0,
    sigma,
    k2: lens?.k2 ?? 0,
    k2Sigma: lens?.k2Sigma ?? K2_SHARE * sigma,
  };
}

/** Prior sd of k1 of a phone nothing is known of (DEVELOPERS.md "One photograph"). */
const LENS_SIGMA = 0.01;
/**
 * Prior sd of k2 where nothing is said of it, as a share of that of k1: pictures of phones are corrected by the phone itself, and what is
 * left is small in both terms (common practice, no source). Whoever knows k1 well by straight things knows the whole curve well.
 */
const K2_SHARE = 0.3;
