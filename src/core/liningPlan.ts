import type { WallRect } from './survey.ts';

/*
 * The parts of a lining plan (results.ts, LiningPlan): what its figures mean. Lengths in mm on the wall, seen from the room.
 */

/** What became of one wish on the bed plane. `wish`: a face's id, 'turn', 'lean' or 'least_bed'. */
export interface WishOutcome {
  readonly wish: string;
  readonly kept: boolean;
  /** By how much the plan misses it: mm; of a turn or a lean, mm per m. 0 where it is kept. */
  readonly missedBy: number;
  /** By how much it would have to give way if it alone did and all others were kept; null where that would not do, or no wish is missed. */
  readonly aloneBy: number | null;
}

/** How the bed plane came about. */
export interface PlaneReport {
  /** By how many sigmas the bed keeps clear of the least bed. */
  readonly sigmas: number;
  readonly wishes: readonly WishOutcome[];
}

/** A spot of masonry to hack off: where it is deepest, the rectangle round it, and how much comes off. */
export interface HackedSpot {
  readonly id: string;
  readonly along: number;
  readonly up: number;
  readonly area: WallRect;
  readonly areaM2: number;
  readonly depthMm: number;
}

/** What hacking off the best `spots` gives. `roomMm`: how much less the boards stand out, mean over the wall, than with none hacked off. */
export interface HackOption {
  readonly spots: readonly HackedSpot[];
  readonly meanBedMm: number;
  readonly maxBedMm: number;
  readonly adhesiveL: number;
  readonly powderKg: number;
  /** Weight of the set adhesive on the wall. */
  readonly setKg: number;
  readonly roomMm: number;
  /** Whether it was proven that no other choice of as many spots is better. */
  readonly proven: boolean;
}

/** A strip of board, `layers` deep, bonded to the masonry before the boards; adhesive under it and over it. */
export interface PackingStrip extends WallRect {
  readonly id: string;
  readonly board: string;
  readonly layers: number;
  /** Bed from masonry to board at the strip: mean, and adhesive left under and over it (mm). */
  readonly bedMm: number;
  readonly underMm: number;
  readonly overMm: number;
  /** Adhesive under the strip. */
  readonly volumeL: number;
}

/** Strips of one size to cut for packing. */
export interface StripCut {
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly count: number;
}

/** All packing of the wall: the strips and the pieces they are cut in. */
export interface Packing {
  readonly strips: readonly PackingStrip[];
  readonly cuts: readonly StripCut[];
}

/** Where a box comes through a board, measured on the board's face from its left and bottom edge. */
export interface BoxHole {
  readonly box: string;
  readonly fromLeft: number;
  readonly fromBottom: number;
  readonly width: number;
  readonly height: number;
}

/** An upright edge of a board: with the taper it was made with, or cut. */
export type BoardEdge = 'bound' | 'cut';

/** A board of an opening's reveal: `width` = the reveal's depth, `length` along the opening's side. */
export interface RevealBoard {
  readonly id: string;
  readonly opening: string;
  readonly side: 'left' | 'right' | 'head' | 'sill';
  readonly width: number;
  readonly length: number;
  readonly massKg: number;
}

/** A piece on a stock board, from that board's lower left corner; `piece` = the id of a board, of a reveal board, or 'packing'. */
export interface CutPiece {
  readonly piece: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly length: number;
}

/** One board of the stock and what is cut from it; what is left over, largest first. */
export interface StockSheet {
  readonly id: string;
  readonly width: number;
  readonly length: number;
  readonly pieces: readonly CutPiece[];
  readonly offcuts: readonly WallRect[];
  readonly cuts: number;
}

/** How the boards are cut from the stock: fewest sheets first, then fewest cuts. */
export interface CuttingPlan {
  readonly sheets: readonly StockSheet[];
  /** What to bring, by size. */
  readonly stock: readonly { readonly width: number; readonly length: number; readonly count: number }[];
  readonly cuts: number;
  /** Share of the stock's area that is on no wall. */
  readonly wasteShare: number;
  /** Proven least count of sheets for these pieces; equal to the count of sheets where `proven`. */
  readonly sheetsLeast: number;
  readonly proven: boolean;
}

/** A dab or strip of adhesive behind a board, as pressed: its footprint, the adhesive's depth there and how much it is. */
export interface Dab extends WallRect {
  readonly board: string;
  readonly kind: 'dab' | 'bottom' | 'edge' | 'round_box' | 'round_opening';
  /** The packing strip it stands on; null = on masonry. */
  readonly packing: string | null;
  readonly depthMm: number;
  readonly volumeL: number;
}

/** One mix: what goes into the bucket, for which boards, and how long it is in use. */
export interface Batch {
  readonly number: number;
  /** What it is for; 'packing' = the strips bonded first. */
  readonly boards: readonly string[];
  readonly powderKg: number;
  readonly waterL: number;
  /** Adhesive it puts on the wall. */
  readonly volumeL: number;
  /** The first mix of the day, small, to try the powder and the pace. */
  readonly trial: boolean;
  /** From pouring the powder to the last of it pressed, at the user's own pace. */
  readonly minutes: number;
}

/** A gauge screw as set, against the plan. */
export interface SetScrew {
  readonly screw: string;
  readonly planned: number;
  readonly set: number;
  readonly offMm: number;
  readonly withinTolerance: boolean;
}

/** What the screws set so far mean for one board. */
export interface BoardAsBuilt {
  readonly board: string;
  /** `open` = screws to come; `good` = lies within tolerance; `rocks` = three heads stand proud of the rest; `binds` = masonry comes nearer than the least bed. */
  readonly state: 'open' | 'good' | 'rocks' | 'binds';
  /** The worst of it: at which screw or spot, and by how much (mm). */
  readonly worst: { readonly along: number; readonly up: number; readonly byMm: number } | null;
  /** Range in which each screw still to come must stand (mm out of the wall) so that the board lies within tolerance. */
  readonly next: readonly { readonly screw: string; readonly least: number; readonly most: number }[];
}

export interface AsBuilt {
  readonly screws: readonly SetScrew[];
  readonly boards: readonly BoardAsBuilt[];
}

/** Where in the job a step stands. */
export type WorkStage =
  | 'prepare'
  | 'prime'
  | 'set_out'
  | 'screws'
  | 'packing'
  | 'dry_fit'
  | 'fix'
  | 'wait'
  | 'seal'
  | 'secondary'
  | 'clean';

/** One step of the work in its order; its sentence is in ui/words.ts by `code`, with these figures. */
export interface WorkStep {
  readonly stage: WorkStage;
  readonly code: string;
  /** Ids of boards, screws, spots or batches it is about. */
  readonly of: readonly string[];
  readonly figures: Readonly<Record<string, number>>;
  /** Cautions that belong to this step. */
  readonly cautions: readonly string[];
}
