/**
 * The survey as a plain immutable value (contract A, survey file version 1). Lengths in mm, image points in px of the
 * upright picture. `null` stands for "not measured" in the file; inside results a missing value is NaN.
 * Keys the file has beyond these are kept by file/ and pass through untouched.
 */
export interface Survey {
  readonly format: 'bedplane-survey';
  readonly version: 1;
  readonly title: string;
  readonly units: 'mm' | 'inch';
  readonly wall: Wall;
  readonly phones: readonly Phone[];
  readonly readings: readonly Reading[];
  readonly photos: readonly Photo[];
  readonly lining: Lining;
}

export interface Wall {
  readonly width: number;
  readonly height: number;
  readonly side: 'internal' | 'external' | 'party';
  readonly openings: readonly Opening[];
  readonly boxes: readonly Box[];
  /** The floor and the ceiling where they are not level: spots from left to right, straight between them, level beyond. */
  readonly floor?: readonly WallSpot[];
  readonly ceiling?: readonly WallSpot[];
}

/** A spot on the wall (mm). */
export interface WallSpot {
  readonly along: number;
  readonly up: number;
}

/** A rectangle on the wall: its left lower corner, width and height (mm). */
export interface WallRect {
  readonly along: number;
  readonly up: number;
  readonly width: number;
  readonly height: number;
}

/** Not wall: a window, door or niche. */
export interface Opening extends WallRect {
  readonly id: string;
  readonly kind: string;
  /** How deep its reveal is (mm) where that is to be boarded. */
  readonly reveal?: number;
}

/** A socket or switch box; `proud` is how far it stands out of the wall (mm, negative = recessed). */
export interface Box extends WallRect {
  readonly id: string;
  readonly kind: string;
  readonly proud: number;
}

export interface Phone {
  readonly id: string;
  readonly name: string;
  /** Radial distortion k1 of the phone's lens, null = unknown; sigma is its prior standard deviation. */
  readonly lens: Lens;
}

export interface Lens {
  readonly k1: number | null;
  readonly sigma: number;
  /** Second radial term k2 with its sigma; missing = not known, taken to be small. */
  readonly k2?: number | undefined;
  readonly k2Sigma?: number | undefined;
  /** Where it is known from: `check` = photographs of straight things; missing = typed, or not known. */
  readonly from?: 'check' | undefined;
}

/** A rule reading: distance from the laser's reference plane back to the wall, so `out` = -distance. */
export interface Reading {
  readonly id: string;
  readonly along: number;
  readonly up: number;
  readonly distance: number;
  readonly sigma: number;
  /** Left out of the solve by hand. */
  readonly leftOut?: boolean | undefined;
}

export interface Photo {
  readonly id: string;
  readonly file: string;
  readonly phone: string;
  readonly stand: Stand;
  readonly marks: readonly Mark[];
  readonly tapes: readonly Tape[];
  readonly masks: readonly Mask[];
  readonly lines: readonly LaserLine[];
  /** Size of the upright picture (px) and its EXIF 35 mm focal length; noted when the picture is first opened. */
  readonly widthPx?: number | undefined;
  readonly heightPx?: number | undefined;
  readonly focal35Mm?: number | null | undefined;
  /** The same view with the laser off: what is in both pictures is no laser light. */
  readonly laserOff?: string | undefined;
  /** Packers of known thickness under the line. */
  readonly blocks?: readonly StepBlock[] | undefined;
  /** Photos with the same name here were taken by one phone that was not moved in between, as on a tripod. */
  readonly station?: string | undefined;
  /** Left out of the solve by hand. */
  readonly leftOut?: boolean | undefined;
}

/**
 * A packer of known thickness (mm) held flat on the wall so that a line runs over it: the line's points from..to (px of u
 * for a level line, of v for a plumb one) lie on its face.
 */
export interface StepBlock {
  readonly line: string;
  readonly from: number;
  readonly to: number;
  readonly thickness: number;
  /** How well the thickness is known, mm. */
  readonly sigma: number;
}

/** Where the phone stood: `off` the reference plane, `up` from the floor, `along` from the left end; null = not measured. */
export interface Stand {
  readonly off: number | null;
  readonly up: number | null;
  readonly along: number | null;
  readonly sigma: number;
}

/** A point of the picture (u, v) whose place on the wall (along, up) is known; sigma of the image point in px. */
export interface Mark {
  readonly u: number;
  readonly v: number;
  readonly along: number;
  readonly up: number;
  readonly sigma: number;
  /**
   * Says where it is along this axis only, as a graduation of a tape does that may lie a little higher or lower. Made from a
   * tape's reading (core/tape/tapeMarks.ts), never in the file.
   */
  readonly only?: 'along' | 'up' | undefined;
  /** Which mark it is of another photo of the same unmoved phone (index -1 = graduations); made when pooled, never in the file. */
  readonly of?: { readonly photo: string; readonly index: number } | undefined;
  /** Left out of the solve by hand. */
  readonly leftOut?: boolean | undefined;
}

/** Two marks (indices) on one tape, the axis it lies along and its graduation (mm). */
export interface Tape {
  readonly from: number;
  readonly to: number;
  readonly axis: 'along' | 'up';
  readonly pitch: number;
  /** What was read off the tape in the picture; missing = not looked at yet. */
  readonly read?: TapeReading | undefined;
}

/** A tape's graduations as seen in the picture. */
export interface TapeReading {
  /** Whether the graduations could be read; if not, the two marks stand as they were clicked. */
  readonly legible: boolean;
  /** Graduations seen, in their order along the tape: place on the tape's axis (mm), image point and its sigma (px). */
  readonly graduations: readonly {
    readonly at: number;
    readonly u: number;
    readonly v: number;
    readonly sigma: number;
  }[];
  /** Root mean square of the graduations about the fitted lattice (px). */
  readonly rmsPx: number;
  /** How many graduations agree with the lattice, of how many that it has between the ends seen. */
  readonly agree: number;
  readonly of: number;
  /** When the names of the marks do not fit the graduations: by how much the `to` mark seems to be off (mm); else 0. */
  readonly misnamedMm: number;
}

/** A part of the picture to leave out (px). */
export interface Mask {
  readonly u: number;
  readonly v: number;
  readonly width: number;
  readonly height: number;
}

export type LaserColour = 'red' | 'green';
export type LineAxis = 'level' | 'plumb';

/** The sheet of light: level at a height `at`, or plumb and square to the wall at `along` = `at` (mm; null = not typed yet). */
export interface Sheet {
  readonly axis: LineAxis;
  readonly at: number | null;
}

export interface LaserLine {
  readonly id: string;
  readonly colour: LaserColour;
  readonly sheet: Sheet;
  /** Empty = not looked for yet. */
  readonly points: readonly LinePoint[];
  readonly gaps: readonly Gap[];
  /** Places that the user has said the line passes through. */
  readonly pins?: readonly Pin[] | undefined;
  /** Left out of the solve by hand. */
  readonly leftOut?: boolean | undefined;
}

/** A place in the picture (px). */
export interface Pin {
  readonly u: number;
  readonly v: number;
}

/**
 * Why a point is suspect: two peaks, hardly brighter than the wall, away from both neighbours, much wider than the line,
 * or beside the crossing with another line.
 */
export type SuspectReason = 'two_peaks' | 'low_contrast' | 'off_neighbours' | 'wide' | 'crossing';

/** found by the finder; moved or added by hand; suspect = used with care, shown so; off = left out by hand. */
export type PointState = 'found' | 'moved' | 'added' | 'suspect' | 'off';

export interface LinePoint {
  readonly u: number;
  readonly v: number;
  /** Standard deviation across the line, px. */
  readonly sigma: number;
  readonly state: PointState;
  /** Why a suspect point is one. */
  readonly why?: SuspectReason | undefined;
}

/** A stretch without line, px along the picture's axis nearest to the line: u of a level line, v of a plumb one. */
export interface Gap {
  readonly from: number;
  readonly to: number;
  /** Marked or erased by hand: points found anew do not come back into it. */
  readonly byHand?: boolean | undefined;
}

export interface Lining {
  readonly board: { readonly width: number; readonly length: number; readonly thickness: number };
  readonly bed: { readonly min: number; readonly max: number; readonly packedMax: number };
  /** Further sizes of board on hand, of the same thickness. */
  readonly stock?: readonly StockSize[];
  readonly plane?: PlaneWishes;
  /** Spots picked to be hacked off, each the middle of a spot as large as the settings say. */
  readonly hackOff?: readonly WallSpot[];
  /** Where the boards start from; missing = wherever the fewest boards and cuts are. */
  readonly start?: 'best' | 'left' | 'right' | 'balanced';
  /** The user's own figures by the name of the trade default (core/lining/defaults.ts). */
  readonly settings?: Readonly<Record<string, number>>;
  /** Lengths of plug screws on hand (mm). */
  readonly screwLengths?: readonly number[];
  /** Gauge screws as they were really set: how far the head stands out of the wall (mm). */
  readonly asBuilt?: readonly { readonly screw: string; readonly projection: number }[];
  /** Ids of the steps and screws that were ticked off. */
  readonly done?: readonly string[];
}

export interface StockSize {
  readonly width: number;
  readonly length: number;
}

/** What the user wants of the boards' plane; all missing = plumb, free to turn, the least bed kept by the surface itself. */
export interface PlaneWishes {
  /** How many sigmas of the surface are kept clear beyond the least bed. */
  readonly sigmas?: number;
  /** Lean out of plumb that is allowed (mm per m). */
  readonly lean?: number;
  /** `free`, `laser` = parallel to the laser's plane, `square` = turned as `squareBy` says, to be square to an adjoining wall. */
  readonly turn?: 'free' | 'laser' | 'square';
  /** How much further out the boards' plane stands per metre along the wall to be square (mm per m). */
  readonly squareBy?: number;
  readonly faces?: readonly FaceWish[];
}

/** A face the boards' face must meet: where on the wall, and how far it stands from the laser's plane (mm, as a reading; negative before it). */
export interface FaceWish {
  readonly id: string;
  /** What it is: a door lining, a window board, an adjoining board. */
  readonly kind: string;
  readonly along: number;
  readonly up: number;
  readonly distance: number;
  /** `meet` = flush within the tolerance; `behind` = no further out than it; `before` = no further back. */
  readonly rule: 'meet' | 'behind' | 'before';
  /** Missing = the setting `faceToleranceMm`. */
  readonly tolerance?: number;
}
