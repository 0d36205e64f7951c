import { listParts } from '../camera/block.ts';
import { cutSheet, rayFromImage, type Camera } from '../camera/camera.ts';
import { listPriors } from '../camera/evidence.ts';
import { lookAlong, TAPE_LOOSE_MM } from '../camera/markWeights.ts';
import type { ImagePoint, WallPoint } from '../camera/frames.ts';
import {
  CAMERA_PARAMETERS,
  K1_PARAMETER,
  K2_PARAMETER,
  packCamera,
  projectPoint,
  unpackCamera,
} from '../camera/projection.ts';
import { alongSheet, differentiateOffset, type KnownSheet } from '../camera/sheet.ts';
import {
  indexLens,
  indexLine,
  indexStation,
  STATION_UNKNOWNS,
  type Network,
  type SeenLine,
} from './network.ts';
import { guardUnknown, holdUnknown, TREND, type Observation } from './observation.ts';

/** Where the iteration stands: cameras (with their phone's lens), lenses, sheets, and the wall as solved so far. */
export interface NetworkState {
  readonly cameras: readonly Camera[];
  readonly lenses: readonly { readonly k1: number; readonly k2: number }[];
  readonly sheets: readonly SheetState[];
  readonly offsetAt: (alongMm: number, upMm: number) => number;
}

/** How a sheet of light differs from what was typed: shift (mm) and tilt (mm per mm about the line's middle). */
export interface SheetState {
  readonly shiftMm: number;
  readonly tilt: number;
}

/** What is known of the trend beforehand: means and sds of its unknowns (mm, mm/m, mm/m, mm/m2). */
export interface TrendPrior {
  readonly mean: readonly number[];
  readonly sigma: readonly number[];
}

/**
 * Nothing known: a wall within a metre or so of the laser's plane, no steeper than 1 in 10, twisted by some 3 mm/m2, which on a wall
 * of 3.6 x 2.4 m is 6 mm at each corner (common practice, no source).
 */
export const VAGUE_TREND: TrendPrior = { mean: [0, 0, 0, 0], sigma: [1000, 100, 100, 3] };

/** Height typed for a sheet: reading the rule 0.4 mm and finding the line's middle 0.4 mm (common practice, no source). */
const SHEET_SHIFT_SIGMA_MM = 0.5;
/** Line lasers are made to +-0.3 mm/m (usual accuracy class), taken as two standard deviations. */
const SHEET_TILT_SIGMA = 0.00015;
/**
 * The roughness under neighbouring stretches (20 mm) is the same over about 100 mm (a brick, a trowel's width: common practice,
 * no source), so that five of them say no more of it than one.
 */
const ROUGH_SHARED = Math.sqrt(5);
/** The spot that a rule's end bears on has the roughness of its strip and, as much again, its own. */
export const ROUGH_SPOT = Math.SQRT2;
/**
 * A spot anywhere has as much again as that, measured on made brick walls: it may lie in a joint, which a rule's end bridges and a line along
 * a course does not meet.
 */
export const ROUGH_ANYWHERE = 2;

/** A correction to a camera is small against these (mm, rad, log focal length): keeps one that little holds where it is. */
const STATION_SIGMAS = [3000, 3000, 3000, 0.5, 0.5, 0.5, 0.5];

/** A point of a line seen from a camera through its sheet as it stands: the place on the wall, the local sheet, and the ray. */
export function placeOnSheet(
  camera: Camera,
  seen: SeenLine,
  state: SheetState,
  point: ImagePoint,
): { place: WallPoint; sheet: KnownSheet; ray: WallPoint } {
  const { axis, at } = seen.sheet;
  const ray = rayFromImage(camera, point);
  const flat: KnownSheet = { axis, at: at + state.shiftMm };
  const s = alongSheet(flat, cutSheet(camera.position, ray, flat));
  const sheet: KnownSheet = { axis, at: flat.at + state.tilt * (s - seen.middleMm) };
  return { place: cutSheet(camera.position, ray, sheet), sheet, ray };
}

/** A point of a line as seen at a state: its place, and how its offset and its place along change with which unknowns. */
export interface SeenPoint {
  readonly place: WallPoint;
  readonly unknowns: readonly number[];
  readonly outFactors: readonly number[];
  readonly alongFactors: readonly number[];
  readonly outPerPx: number;
}

/** A seen point with its derivatives, for a network at a state; null where its ray misses the sheet. */
export function differentiateSeenPoint(
  network: Network,
  state: NetworkState,
  lineIndex: number,
  point: ImagePoint,
): SeenPoint | null {
  const seen = network.lines[lineIndex]!;
  const camera = state.cameras[seen.station]!;
  const { place, sheet, ray } = placeOnSheet(camera, seen, state.sheets[lineIndex]!, point);
  if (Number.isNaN(place.out)) return null;
  const by = differentiateOffset(camera, sheet, place);
  if (!by) return null;
  const isLevel = sheet.axis === 'level';
  const through = isLevel ? ray.up : ray.along;
  const fromMiddle = alongSheet(sheet, place) - seen.middleMm;
  const outPerShift = ray.out / through;
  const alongPerShift = (isLevel ? ray.along : ray.up) / through;
  const first = indexLine(network, lineIndex);
  const unknowns = listCameraUnknowns(network, seen.station);
  unknowns.push(first, first + 1);
  return {
    place,
    unknowns,
    outFactors: [...by.outByCamera, outPerShift, outPerShift * fromMiddle],
    alongFactors: [...by.sByCamera, alongPerShift, alongPerShift * fromMiddle],
    outPerPx: by.outPerPx,
  };
}

/** Unknowns of a station's nine camera parameters, k1 and k2 being its phone's. */
function listCameraUnknowns(network: Network, station: number): number[] {
  const base = indexStation(network, station);
  const unknowns: number[] = [];
  for (let k = 0; k < STATION_UNKNOWNS; k++) unknowns.push(base + k);
  const lens = indexLens(network.stations[station]!.phone);
  unknowns.push(lens, lens + 1);
  return unknowns;
}

/** All observations of a network, linear at a state. */
export function linearizeNetwork(network: Network, state: NetworkState, trend: TrendPrior): Observation[] {
  return [
    ...listPoints(network, state),
    ...listReadings(network),
    ...listMarks(network, state),
    ...listBlocks(network, state),
    ...listPriorRows(network, state, trend),
  ];
}

function listPoints(network: Network, state: NetworkState): Observation[] {
  return network.lines.flatMap((seen, subject) =>
    seen.stretches.flatMap((stretch): Observation[] => {
      const by = differentiateSeenPoint(network, state, subject, stretch);
      if (!by) return [];
      return [
        {
          kind: 'point',
          subject,
          along: by.place.along,
          up: by.place.up,
          field: 1,
          unknowns: [...by.unknowns, indexLine(network, subject) + 2],
          factors: [...by.outFactors.map((factor) => -factor), 1],
          target: by.place.out,
          sigma: stretch.sigmaPx * by.outPerPx,
          roughness: ROUGH_SHARED,
        },
      ];
    }),
  );
}

function listReadings(network: Network): Observation[] {
  return network.readings.map((reading, subject) => ({
    kind: 'reading',
    subject,
    along: reading.along,
    up: reading.up,
    field: 1,
    unknowns: [],
    factors: [],
    target: -reading.distance,
    sigma: reading.sigma,
    roughness: ROUGH_SPOT,
  }));
}

function listMarks(network: Network, state: NetworkState): Observation[] {
  return network.marks.flatMap(({ station, mark }, subject): Observation[] => {
    const out = state.offsetAt(mark.along, mark.up);
    const image = projectPoint(state.cameras[station]!, { along: mark.along, up: mark.up, out });
    if (!image) return [];
    const unknowns = listCameraUnknowns(network, station);
    const directions = mark.only ? [lookAlong(image, mark.only)] : AXES_OF_IMAGE;
    return directions.map(([byU, byV]) => {
      const perMm = byU * image.byPoint[2]! + byV * image.byPoint[5]!;
      return {
        kind: 'mark',
        subject,
        along: mark.along,
        up: mark.up,
        field: perMm,
        unknowns,
        factors: Array.from(
          { length: CAMERA_PARAMETERS },
          (_, k) => byU * image.byCamera[k]! + byV * image.byCamera[CAMERA_PARAMETERS + k]!,
        ),
        target: byU * (mark.u - image.u) + byV * (mark.v - image.v) + perMm * out,
        sigma: mark.only ? Math.hypot(mark.sigma, TAPE_LOOSE_MM * perMm) : mark.sigma,
        roughness: Math.abs(perMm),
      };
    });
  });
}

/** A mark set by hand tells both u and v. */
const AXES_OF_IMAGE = [
  [1, 0],
  [0, 1],
] as const;

/** Packers: the offset of the face less that of the wall beside it is the thickness. Says nothing of the wall itself. */
function listBlocks(network: Network, state: NetworkState): Observation[] {
  return network.blocks.flatMap(({ line, seen }, subject): Observation[] => {
    const parts = listParts(seen).map(({ stretch, share }) => ({
      by: differentiateSeenPoint(network, state, line, stretch),
      share,
    }));
    const face = parts[0]!.by;
    let thicknessMm = 0;
    const factors: number[] = [];
    for (const { by, share } of parts) {
      if (!by) return [];
      thicknessMm += share * by.place.out;
      by.outFactors.forEach((factor, k) => (factors[k] = (factors[k] ?? 0) + share * factor));
    }
    return [
      {
        kind: 'block',
        subject,
        along: face!.place.along,
        up: face!.place.up,
        field: 0,
        unknowns: face!.unknowns,
        factors,
        target: seen.block.thickness - thicknessMm,
        sigma: Math.hypot(seen.sigmaMm, seen.block.sigma),
        roughness: 0,
      },
    ];
  });
}

function listPriorRows(network: Network, state: NetworkState, trend: TrendPrior): Observation[] {
  const rows: Observation[] = [];
  for (let k = 0; k < TREND; k++) rows.push(holdUnknown(k, trend.mean[k]!, trend.sigma[k]!));
  network.phones.forEach(({ k1, sigma, k2, k2Sigma }, phone) => {
    const now = state.lenses[phone]!;
    rows.push(holdUnknown(indexLens(phone), k1 - now.k1, sigma));
    rows.push(holdUnknown(indexLens(phone) + 1, k2 - now.k2, k2Sigma));
  });
  network.stations.forEach(({ photo, stand }, station) => {
    const now = packCamera(state.cameras[station]!);
    const first = indexStation(network, station);
    for (const { parameter, value, sigma } of listPriors({ ...photo, stand }, null))
      rows.push(holdUnknown(first + parameter, value - now[parameter]!, sigma));
    STATION_SIGMAS.forEach((sigma, parameter) => rows.push(guardUnknown(first + parameter, sigma)));
  });
  network.lines.forEach((_, line) => {
    const { shiftMm, tilt } = state.sheets[line]!;
    const first = indexLine(network, line);
    rows.push(holdUnknown(first, -shiftMm, SHEET_SHIFT_SIGMA_MM));
    rows.push(holdUnknown(first + 1, -tilt, SHEET_TILT_SIGMA));
    rows.push(holdUnknown(first + 2, 0, 0, 1));
  });
  return rows;
}

/** The state after the corrections of an adjustment. */
export function applyCorrections(
  network: Network,
  state: NetworkState,
  unknowns: Float64Array,
  offsetAt: NetworkState['offsetAt'],
): NetworkState {
  const lenses = state.lenses.map(({ k1, k2 }, phone) => ({
    k1: k1 + unknowns[indexLens(phone)]!,
    k2: k2 + unknowns[indexLens(phone) + 1]!,
  }));
  const cameras = state.cameras.map((camera, station) => {
    const parameters = packCamera(camera);
    const base = indexStation(network, station);
    for (let k = 0; k < STATION_UNKNOWNS; k++) parameters[k]! += unknowns[base + k]!;
    const { k1, k2 } = lenses[network.stations[station]!.phone]!;
    parameters[K1_PARAMETER] = k1;
    parameters[K2_PARAMETER] = k2;
    return unpackCamera(parameters, camera);
  });
  const sheets = state.sheets.map(({ shiftMm, tilt }, line) => {
    const first = indexLine(network, line);
    return { shiftMm: shiftMm + unknowns[first]!, tilt: tilt + unknowns[first + 1]! };
  });
  return { cameras, lenses, sheets, offsetAt };
}
