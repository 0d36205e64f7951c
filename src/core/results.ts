import type { WallPoint } from './camera/frames.ts';
import type {
  AsBuilt,
  Batch,
  BoardEdge,
  BoxHole,
  CuttingPlan,
  Dab,
  HackOption,
  HackedSpot,
  Packing,
  PlaneReport,
  RevealBoard,
  VerdictReason,
  WayFigures,
  WorkStep,
} from './liningPlan.ts';
import type { Warning } from './refusal.ts';
import type { LineAxis, WallRect, WallSpot } from './survey.ts';

/** One photographed line as wall offsets: `s` along the line's axis (mm), `out` and `sigma` (mm), and where seen (px). */
export interface Profile {
  readonly photo: string;
  readonly line: string;
  readonly axis: LineAxis;
  readonly atMm: number;
  readonly s: Float64Array;
  readonly out: Float64Array;
  readonly sigma: Float64Array;
  readonly u: Float64Array;
  readonly v: Float64Array;
}

/** The wall as a grid: node (i, j) at along = i * stepMm, up = j * stepMm, stored row by row from the floor (j * nx + i);
 *  NaN where there is no wall (inside openings, beyond the wall's ends). */
export interface Surface {
  readonly stepMm: number;
  readonly nx: number;
  readonly ny: number;
  readonly out: Float64Array;
  readonly sigma: Float64Array;
}

/** Where a photograph was taken from, as resected. `offsetSigmaMm`: expected sigma of a wall offset seen in it. */
export interface PhotoPose {
  readonly id: string;
  readonly position: WallPoint;
  /** Rotation vector in the camera frame from "facing the wall squarely" (rad). */
  readonly rotationRad: readonly [number, number, number];
  readonly focalPx: number;
  readonly offsetSigmaMm: number;
  readonly markRmsPx: number;
}

export interface PhoneLens {
  readonly id: string;
  readonly k1: number;
  readonly sigma: number;
  /** Second radial term; missing where the photographs do not tell it from 0. */
  readonly k2?: number;
  readonly k2Sigma?: number;
}

/**
 * How one piece of evidence stands against all the rest: Baarda's w (|w| over 3.29, marks over 4, makes it suspect). Lengths in mm on
 * the wall, those of a tilt over half the line's length. `subject`: id of the reading, name of the line; of a mark, a stand and a
 * packer the photo's id.
 */
export interface Residual {
  readonly kind: 'reading' | 'line' | 'mark' | 'stand' | 'block';
  readonly subject: string;
  /** What of it: a line's height or its tilt, a mark's place along or up, a stand's measure. */
  readonly part: 'distance' | 'shift' | 'tilt' | 'along' | 'up' | 'off' | 'thickness';
  /** Index of the mark or packer in its photo; -1 = graduations read off a tape; missing for other kinds. */
  readonly index?: number;
  /** Measured less solved. */
  readonly residualMm: number;
  readonly sigmaMm: number;
  readonly w: number;
  /** Share of an error in it that shows in its own residual, 0 (nothing checks it) to 1. */
  readonly redundancy: number;
  /** Smallest error that would be found (probability 0.80); NaN where nothing checks it. */
  readonly detectableMm: number;
  /** The error that explains the residual; NaN where nothing checks it. */
  readonly errorMm: number;
  /** unsure = it or another that fails about alike is wrong: kept with the weight of the error it would have. */
  readonly state: 'used' | 'suspect' | 'left_out' | 'unsure' | 'by_hand';
}

/** Whether sigmas fit residuals: the weighted square sum beside the range that 95 % of such sums fall in (chi-square). */
export interface Fit {
  readonly kind: 'all' | 'point' | 'reading' | 'mark' | 'stand' | 'line';
  readonly count: number;
  readonly squareSum: number;
  readonly redundancy: number;
  readonly least: number;
  readonly most: number;
}

/**
 * A straight edge over which the wall's face steps, as several lines show it: `plumb`, at `atMm` along, from `fromMm` to `toMm` up; or
 * `level`, at that height. Beyond it (right of it, above it) the face lies `outMm` further out.
 */
export interface WallStep {
  readonly axis: LineAxis;
  readonly atMm: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly outMm: number;
}

/** What was made out of the wall's unevenness: reach (mm) and sd (mm) of its waves, and its roughness finer than the grid. */
export interface Unevenness {
  readonly rangeMm: number;
  readonly sdMm: number;
  readonly roughMm: number;
}

/** How far a box stands out of the wall around it (mm, negative = behind it), as `count` points of the lines across it show. */
export interface MeasuredBox {
  readonly id: string;
  readonly proudMm: number;
  readonly sigmaMm: number;
  readonly count: number;
}

export interface Solution {
  readonly profiles: readonly Profile[];
  /** The boxes that lines cross. */
  readonly boxes: readonly MeasuredBox[];
  readonly surface: Surface;
  readonly phones: readonly PhoneLens[];
  readonly photos: readonly PhotoPose[];
  readonly residuals: readonly Residual[];
  readonly fits: readonly Fit[];
  readonly unevenness: Unevenness;
  readonly setbacks: readonly WallStep[];
  readonly warnings: readonly Warning[];
}

/** out = p + q along + r up: the back of the boards (mm, mm/mm). */
export interface BedPlane {
  readonly p: number;
  readonly q: number;
  readonly r: number;
}

export type Zone = 'thin' | 'normal' | 'packed' | 'beyond';

export interface ZoneShare {
  readonly zone: Zone;
  readonly areaM2: number;
  readonly share: number;
  /** Area to be expected in it with the surface's sigma: the sum over the wall of the chance to be in it. */
  readonly expectedM2: number;
}

/** One board as fixed: its rectangle on the wall, and the parts cut out of it. */
export interface Board extends WallRect {
  readonly id: string;
  readonly cutouts: readonly WallRect[];
  /** Its corners from the lower left, counter-clockwise, where an end follows a sloping floor or ceiling; null = the rectangle. */
  readonly outline: readonly WallSpot[] | null;
  readonly edges: { readonly left: BoardEdge; readonly right: BoardEdge };
  /** Boxes that come through it. */
  readonly holes: readonly BoxHole[];
  /** The stock board it is cut from. */
  readonly sheet: string;
  readonly massKg: number;
  /** How many it takes to lift it. */
  readonly persons: 1 | 2;
}

/** A gauge screw: its head stands `projection` mm out of the wall, on the bed plane. */
export interface GaugeScrew {
  readonly id: string;
  readonly board: string;
  readonly along: number;
  readonly up: number;
  readonly projection: number;
  readonly sigma: number;
  /** Distance of the screw head from the laser's reference plane (mm, positive behind it). */
  readonly fromLaser: number;
  readonly zone: Zone;
  /** Length to take from the stock (mm): projection, and enough in the wall; null = none on hand is long enough. */
  readonly screwMm: number | null;
  /** What makes cables or pipes likely right here: a box's id, 'top' or 'end' of the wall; null = nothing known. */
  readonly services: string | null;
}

/** What is mixed for one board: `volumeL` on the wall, powder and water with waste, and the dabs it is put on in. */
export interface BoardMix {
  readonly board: string;
  readonly areaM2: number;
  readonly meanBedMm: number;
  readonly volumeL: number;
  readonly powderKg: number;
  readonly waterL: number;
  readonly mixes: number;
  readonly dabs: BoardDabs;
}

/** The dabs behind one board, beside the continuous strip at the floor; count 0 = a small board, on a strip alone. */
export interface BoardDabs {
  readonly columns: number;
  readonly rows: number;
  /** Dabs left after those that would lie in a cut-out. */
  readonly count: number;
  /** Pressed footprint and adhesive of one dab at the board's mean bed. */
  readonly footprintMm2: number;
  readonly volumeL: number;
}

/**
 * The whole wall's adhesive: `volumeL` as it stands pressed on the wall; powder, water and bags include the waste. `coverage` = share
 * of the boards' backs in contact; `mixes` board by board, where `batches` says what is really mixed; `perBoard` = the boards, then
 * those of reveals.
 */
export interface Adhesive {
  readonly coverage: number;
  readonly volumeL: number;
  readonly powderKg: number;
  readonly waterL: number;
  readonly bags: number;
  readonly bagKg: number;
  readonly wasteShare: number;
  readonly mixes: number;
  readonly potLifeMin: number;
  readonly perBoard: readonly BoardMix[];
}

/**
 * A spot of the wall that the bed plane rests on: the bed there is the minimum, and the asked sigmas more. Where the plane rests on no
 * wall, as faces that it must meet hold it away, a spot that comes nearest to that.
 */
export interface HighPoint {
  readonly along: number;
  readonly up: number;
  readonly out: number;
  readonly bed: number;
  readonly sigma: number;
}

/** Which way of lining the wall suits: dabs alone, dabs over packing strips, or not direct bonding at all. */
export type LiningWay = 'direct_bond' | 'pack_first' | 'frame_or_plaster';

export type LiningCaution =
  | 'external_wall_uninsulated' // room air behind the boards meets a cold face: damp and mould
  | 'party_wall_sound' // boards on dabs can let through more sound than the bare wall
  | 'horizontal_joint' // a board is too short and the joint above it shows
  | 'high_point_unsure'; // the bed may come out thinner than the minimum

/** The short answer whether the wall can be lined on dabs, with the shares of its area that decide. */
export interface Verdict {
  readonly way: LiningWay;
  readonly overMaxShare: number;
  readonly overPackedShare: number;
  readonly cautions: readonly LiningCaution[];
  /** Why, the weightiest first. */
  readonly reasons: readonly VerdictReason[];
  /** Boards on adhesive, boards on a frame, and plaster, made flat to the same plane. */
  readonly comparison: readonly WayFigures[];
}

export interface LiningPlan {
  readonly bedPlane: BedPlane;
  /** Bed depth at the surface's nodes, same order, NaN where there is no wall; of the wall as hacked off where spots are picked. */
  readonly bed: Float64Array;
  readonly meanBedMm: number;
  readonly maxBedMm: number;
  readonly zones: readonly ZoneShare[];
  /** The high point that stands furthest out, and all that touch, from the left. */
  readonly highPoint: HighPoint;
  readonly highPoints: readonly HighPoint[];
  readonly boards: readonly Board[];
  readonly screws: readonly GaugeScrew[];
  readonly adhesive: Adhesive;
  readonly planeReport: PlaneReport;
  /**
   * Spots picked to be hacked off, with what comes off there for this plane; none where nothing has to. The mean, the most and the
   * zones of the bed are of the wall as hacked: there the bed is the least that is asked.
   */
  readonly hacked: readonly HackedSpot[];
  /** What hacking off 0, 1, .. spots would give; a number of spots that gains nothing over fewer is left out. Empty in a quick plan. */
  readonly hackOptions: readonly HackOption[];
  readonly packing: Packing;
  readonly reveals: readonly RevealBoard[];
  readonly cutting: CuttingPlan;
  readonly dabs: readonly Dab[];
  readonly batches: readonly Batch[];
  readonly asBuilt: AsBuilt;
  readonly work: readonly WorkStep[];
  readonly verdict: Verdict;
  readonly warnings: readonly Warning[];
}

/**
 * A measurement still to be made and what the wall is expected to be known to after it. Of a line: where it is thrown (`up` of a
 * level one, `along` of a plumb one), the other being the middle of the stretch that its photo is to show (mm).
 */
export interface NextMeasure {
  readonly kind: 'reading' | 'level' | 'plumb';
  readonly along: number;
  readonly up: number;
  readonly stretch: { readonly from: number; readonly to: number } | null;
  readonly doubtfulM2After: number;
  readonly sigmaRmsAfterMm: number;
}

/** Where the surface is too badly known for the bed decision, and what would help most. */
export interface NextAdvice {
  readonly linedM2: number;
  /** Area expected to be judged into the wrong zone: the sum over the wall of 1 - chance of the most probable zone. */
  readonly doubtfulM2: number;
  readonly sigmaRmsMm: number;
  /** What `best` lowers most: the doubt of the bed decision or, where that is small, the sigma of the whole wall. */
  readonly aim: 'bed' | 'sigma';
  /** null = nothing is worth its trouble. */
  readonly best: NextMeasure | null;
  readonly bestReading: NextMeasure | null;
  readonly bestLine: NextMeasure | null;
  /** The survey is good enough for its decision. */
  readonly enough: boolean;
}
