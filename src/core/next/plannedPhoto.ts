import { aimRotation } from '../camera/aim.ts';
import { imageFromWall, type Camera } from '../camera/camera.ts';
import { pointOnSheet, type KnownSheet } from '../camera/sheet.ts';
import type { Mark, Photo, Survey, Wall } from '../survey.ts';
import { linearizeNetwork, VAGUE_TREND } from '../solve/linearize.ts';
import {
  countUnknowns,
  indexStation,
  liesIn,
  liesOnWall,
  type SeenLine,
  type StationMark,
} from '../solve/network.ts';
import { TREND } from '../solve/observation.ts';
import type { Kept } from '../solve/solve.ts';
import { STRETCH_MM } from '../solve/thin.ts';
import { rowOf, type JointRow, type JointWall } from './jointWall.ts';
import type { UsualPhoto } from './usualPhoto.ts';

/** A line still to be thrown and photographed, and the stretch of it (mm along it) that the picture will show. */
export interface PlannedLine {
  readonly sheet: KnownSheet;
  readonly from: number;
  readonly to: number;
  readonly rows: readonly JointRow[];
  readonly ownCount: number;
}

/** A phone stands aside of the light by a third of its distance, is held between these heights, aimed a little to its own side. */
const ASIDE_SHARE = 1 / 3;
const LOWEST_MM = 150;
const HIGHEST_MM = 2000;
const AIM_SHARE = 0.15;
/** Share of the picture at its edges that is left free. */
const MARGIN = 0.01;
/** Marks on a tape so far beside the line, on its side away from the middle of the wall (mm), at these shares of what is seen of it. */
const TAPE_MM = 40;
const MARK_SHARES = [0.03, 0.34, 0.66, 0.97];
/** Points say nothing of the wall so near to a box or opening (mm); less than this of a line is not worth a photo. */
const RECT_MARGIN_MM = 10;
const LEAST_MM = 500;
/** Points that stand for a line: the sums grow with their square. */
const MOST_POINTS = 40;
/** The roughness under neighbouring stretches is shared over five of them (solve/linearize.ts). */
const ROUGH_STRETCHES = 5;

function aimCamera(
  usual: UsualPhoto,
  lens: Pick<Camera, 'k1' | 'k2'>,
  sheet: KnownSheet,
  middleMm: number,
  wall: Wall,
): Camera {
  const level = sheet.axis === 'level';
  const out = usual.offMm[sheet.axis];
  const aside = ASIDE_SHARE * out;
  const up = sheet.at + (sheet.at < wall.height / 2 ? aside : -aside);
  const position = level
    ? { along: middleMm, up: Math.min(HIGHEST_MM, Math.max(LOWEST_MM, up)), out }
    : { along: sheet.at + (sheet.at < wall.width / 2 ? aside : -aside), up: middleMm, out };
  const at = sheet.at + AIM_SHARE * ((level ? position.up : position.along) - sheet.at);
  return {
    position,
    rotationRad: aimRotation(position, pointOnSheet({ axis: sheet.axis, at }, middleMm, 0)),
    focalPx: usual.focalPx,
    ...lens,
    widthPx: level ? usual.longPx : usual.shortPx,
    heightPx: level ? usual.shortPx : usual.longPx,
  };
}

/** Share of a picture that the next one shows too. */
const OVERLAP = 0.15;

/** Middles (mm along the line) of the photographs side by side that show all of a line from the usual distance. */
export function listMiddles(usual: UsualPhoto, axis: KnownSheet['axis'], lengthMm: number): number[] {
  const seen = (usual.offMm[axis] * usual.longPx * (1 - 2 * MARGIN)) / usual.focalPx;
  const count = seen >= lengthMm ? 1 : Math.ceil((lengthMm / seen - OVERLAP) / (1 - OVERLAP));
  if (count === 1) return [lengthMm / 2];
  const first = seen / 2;
  return Array.from({ length: count }, (_, k) => first + (k * (lengthMm - seen)) / (count - 1));
}

/**
 * A photograph still to be taken of a line, as rows on the joint wall: its points, four tape marks, a measured stand and the focal
 * length's tag, linear where a camera put as usual will see them. Its own unknowns are those of a station and a line of the
 * network. Null where too little of the line is on the wall and in the picture.
 */
export function planLinePhoto(
  joint: JointWall,
  { survey, coarse }: Kept,
  usual: UsualPhoto,
  sheet: KnownSheet,
  middleMm: number,
): PlannedLine | null {
  const { wall } = survey;
  const { network } = coarse.task;
  const { state } = coarse.settled;
  const camera = aimCamera(usual, state.lenses[usual.phone]!, sheet, middleMm, wall);
  const lengthMm = sheet.axis === 'level' ? wall.width : wall.height;
  const acrossMm = sheet.axis === 'level' ? wall.height : wall.width;
  const spacing = Math.max(joint.model.grid.stepMm, lengthMm / MOST_POINTS);
  const pieces = spacing / STRETCH_MM;
  const see = (place: KnownSheet, s: number) => {
    const { along, up } = pointOnSheet(place, s, 0);
    return imageFromWall(camera, { along, up, out: state.offsetAt(along, up) });
  };
  const margin = MARGIN * usual.longPx;
  const places = listPlaces(survey, sheet, lengthMm, spacing).filter((s) => {
    const { u, v } = see(sheet, s);
    return u >= margin && v >= margin && u <= camera.widthPx - margin && v <= camera.heightPx - margin;
  });
  const from = places[0]!;
  const to = places.at(-1)!;
  if (places.length < 2 || places.length * spacing < LEAST_MM) return null;
  const photo = describePhoto(usual, camera, sheet);
  const marks = MARK_SHARES.map((share, index): StationMark => {
    const beside = { axis: sheet.axis, at: sheet.at + (sheet.at < acrossMm / 2 ? -TAPE_MM : TAPE_MM) };
    const s = from + share * (to - from);
    const { along, up } = pointOnSheet(beside, s, 0);
    const mark: Mark = { ...see(beside, s), along, up, sigma: usual.markSigmaPx };
    return { station: 0, photo, mark, index };
  });
  const line: SeenLine = {
    photo,
    station: 0,
    line: { id: '', colour: 'red', sheet, points: [], gaps: [] },
    sheet,
    middleMm: (from + to) / 2,
    halfLengthMm: (to - from) / 2,
    stretches: places.map((s) => ({
      ...see(sheet, s),
      sigmaPx: usual.stretchSigmaPx / Math.sqrt(pieces),
      count: 1,
    })),
  };
  const alone = {
    ...network,
    stations: [{ photos: [photo], photo, stand: photo.stand, phone: usual.phone, camera }],
    lines: [line],
    marks,
    readings: [],
    blocks: [],
  };
  const first = indexStation(alone, 0);
  const observations = linearizeNetwork(
    alone,
    { ...state, cameras: [camera], sheets: [{ shiftMm: 0, tilt: 0 }] },
    VAGUE_TREND,
  )
    // what is known of trend and lenses is in the joint wall already
    .filter(({ field, unknowns }) => field !== 0 || unknowns.some((unknown) => unknown >= first))
    .map((each) =>
      each.kind === 'point' ? { ...each, roughness: Math.sqrt(ROUGH_STRETCHES / pieces) } : each,
    );
  const place = (unknown: number) => (unknown < first ? joint.nodes + unknown - TREND : first - 1 - unknown);
  const rows = observations.map((each) => rowOf(joint, each, place));
  return { sheet, from, to, rows, ownCount: countUnknowns(alone) - first };
}

/** Places (mm along a line) at the joint wall's spacing that are wall, clear of boxes and openings; the same from either end. */
function listPlaces({ wall }: Survey, sheet: KnownSheet, lengthMm: number, spacing: number): number[] {
  const count = Math.floor(lengthMm / spacing + 1e-9);
  const first = (lengthMm - count * spacing) / 2;
  return Array.from({ length: count + 1 }, (_, k) => first + k * spacing).filter((s) => {
    const { along, up } = pointOnSheet(sheet, s, 0);
    const beside = [...wall.openings, ...wall.boxes];
    return liesOnWall(wall, along, up) && !beside.some((rect) => liesIn(rect, along, up, RECT_MARGIN_MM));
  });
}

function describePhoto(usual: UsualPhoto, camera: Camera, { axis }: KnownSheet): Photo {
  const { position, widthPx, heightPx } = camera;
  const level = axis === 'level';
  return {
    id: '',
    file: '',
    phone: '',
    stand: {
      off: position.out,
      up: level ? position.up : null,
      along: level ? null : position.along,
      sigma: usual.standSigmaMm,
    },
    marks: [],
    tapes: [],
    masks: [],
    lines: [],
    widthPx,
    heightPx,
    focal35Mm: usual.focal35Mm,
  };
}
