import type { WallRect, WallSpot } from './survey.ts';

/*
 * The parts of a lining plan (results.ts, LiningPlan): what its figures mean. Lengths in mm on the wall, seen from the room.
 */

/** What became of one wish on the bed plane. `wish`: a face's id, 'turn', 'lean' or 'least_bed'. */
export interface WishOutcome {
  readonly wish: string;
  readonly kept: boolean;
  /** By how much the plan misses it: mm; of a turn or a lean, mm per m. 0 where it is kept. */
  readonly missedBy: number;
  /**
   * By how much it would have to give way if it alone did and all others were kept; null where that would not do, or no wish is
   * missed. Of `least_bed` more than the least bed itself: masonry would stand in the boards' way.
   */
  readonly aloneBy: number | null;
}

/** How the bed plane came about. */
export interface PlaneReport {
  /** By how many sigmas the bed keeps clear of the least bed. */
  readonly sigmas: number;
  readonly wishes: readonly WishOutcome[];
}

/** A spot of masonry to hack off: its middle as `Lining.hackOff` has it, the rectangle round what comes off, and how much. */
export interface HackedSpot {
  readonly id: string;
  readonly along: number;
  readonly up: number;
  /** Where most comes off: `depthMm`. */
  readonly deepest: WallSpot;
  readonly area: WallRect;
  readonly areaM2: number;
  readonly depthMm: number;
}

/**
 * What hacking off the best `spots` gives; the whole bed counted as adhesive, no packing deducted. `roomMm`: how much less the boards
 * stand out, mean over the wall, than with none hacked off.
 */
export interface HackOption {
  readonly spots: readonly HackedSpot[];
  /** Bed of the wall as hacked. */
  readonly meanBedMm: number;
  readonly maxBedMm: number;
  /** Shares of the wall left over the adhesive's most and over the packing's most. */
  readonly overMaxShare: number;
  readonly overPackedShare: number;
  readonly adhesiveL: number;
  readonly powderKg: number;
  /** Weight of the set adhesive on the wall. */
  readonly setKg: number;
  readonly roomMm: number;
  /** Whether it was proven that no other choice of as many spots is better. */
  readonly proven: boolean;
}

/** Why the wall suits a way of lining; its sentence is in ui/words.ts by `code`, with these figures. */
export type VerdictReason =
  | { readonly code: 'within_limits'; readonly maxBedMm: number }
  | { readonly code: 'over_max'; readonly share: number; readonly areaM2: number; readonly maxBedMm: number }
  | {
      readonly code: 'beyond_packing';
      readonly share: number;
      readonly areaM2: number;
      readonly maxBedMm: number;
    }
  /** With sigma this much of the wall is to be expected over the adhesive's most. */
  | { readonly code: 'likely_over_max'; readonly areaM2: number; readonly expectedM2: number }
  /** What hacking off so many spots would leave over the adhesive's most and over the packing's. */
  | {
      readonly code: 'hacking_off';
      readonly spots: number;
      readonly overMaxShare: number;
      readonly overPackedShare: number;
    };

/** One way of lining this wall: how far its face stands in front of the masonry, mean over the wall, and what it weighs. */
export interface WayFigures {
  readonly way: 'bonded' | 'frame' | 'plaster';
  readonly thicknessMm: number;
  readonly massKgPerM2: number;
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
  /** Its size as it lies there. */
  readonly width: number;
  readonly length: number;
  /** By how much it lies turned against how it will hang (degrees); by 180 = head down, so that its bound edge comes to the joint. */
  readonly turn: 0 | 90 | 180;
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
  /** What it is for; 'packing' = the strips bonded first; none = a trial mix that is thrown away, its powder on top of the wall's. */
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
  /**
   * `binds` = masonry comes nearer than the least bed, or will if the rest is set like those that are; `rocks` = the heads set so far
   * do not lie in one plane; `open` = screws to come; `off` = it lies flat, but out of the plan's plane; `good` = within tolerance.
   */
  readonly state: 'open' | 'good' | 'off' | 'rocks' | 'binds';
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
  | 'joints'
  | 'clean';

/** Figures of each step of the work by its code, with the units of their names; its sentence is in ui/workWords.ts. */
export interface WorkFigures {
  /** The plan itself says that another way of lining is better here. */
  other_way: { overMaxShare: number; overPackedShare: number };
  bring: { sheets: number; boards: number; bags: number; bagKg: number; waterL: number; screws: number };
  check_wall: { areaM2: number; leastC: number };
  clear_wall: { areaM2: number };
  hack_off: { spots: number; areaM2: number; deepestMm: number };
  dub_out: { areaM2: number; packedMaxMm: number; coatMm: number };
  prime: { areaM2: number; dryMin: number };
  /** From the laser's plane back to the back of the boards at the wall's left and right end, at the floor; out of plumb per metre up. */
  set_laser: { leftMm: number; rightMm: number; boardMm: number; leanMmPerM: number };
  mark_out: { boards: number; joints: number; floorGapMm: number };
  trace_services: { boxes: number; screws: number };
  set_screws: {
    screws: number;
    leastMm: number;
    mostMm: number;
    services: number;
    drillMm: number;
    plugMm: number;
  };
  check_screws: { screws: number; toleranceMm: number };
  cut_packing: { strips: number; pieces: number; lengthMm: number };
  bond_packing: { strips: number; volumeL: number; minutes: number };
  wait_packing: { minutes: number };
  cut_boards: { boards: number; sheets: number; cuts: number };
  dry_fit: { boards: number; heavy: number; heaviestKg: number; floorGapMm: number };
  /** `used` = how many boards it is for; 0 = it is thrown away. */
  mix_trial: { powderKg: number; waterL: number; restMin: number; potLifeMin: number; used: number };
  /** `powderKg` and `waterL` of each bucket. */
  mix: {
    powderKg: number;
    waterL: number;
    buckets: number;
    restMin: number;
    potLifeMin: number;
    minutes: number;
  };
  fix_board: {
    dabs: number;
    strips: number;
    volumeL: number;
    massKg: number;
    persons: number;
    minutes: number;
  };
  fix_reveals: { boards: number; volumeL: number; minutes: number };
  let_go: { minutes: number };
  take_packers: { minutes: number };
  wait_set: { minutes: number; leastC: number };
  seal_gaps: { floorGapMm: number; ceilingGapMm: number; lengthMm: number; boxes: number };
  fill_joints: { joints: number; lengthMm: number; leastC: number };
  secondary_fix: { fixings: number; perBoard: number; boards: number };
  clean_up: { mixes: number; wasteShare: number };
}

export type WorkCode = keyof WorkFigures;

/** What to beware of, said at the steps where it matters. */
export type WorkCaution =
  | 'old_coatings' // asbestos and lead in old coatings and boards
  | 'damp_wall' // nothing is bonded to a damp wall
  | 'cold_wall' // an external wall lined without insulation: damp and mould
  | 'party_sound' // boards on dabs can let through more sound
  | 'stone_dust' // hacking off and drilling masonry
  | 'board_dust' // cutting and sanding boards
  | 'bare_steel' // wet gypsum makes it rust
  | 'laser_light'
  | 'services' // hidden cables and pipes
  | 'live_boxes' // boxes are made dead first
  | 'lifting' // a board over the mass that one person lifts
  | 'clean_bucket' // old gypsum in the bucket makes the next mix go off sooner
  | 'no_retemper' // no water into a mix that stiffens
  | 'over_pot_life' // this mix goes off before it is pressed at the pace set
  | 'temperature'
  | 'air_seal' // dabs in an unbroken line where air and fire are to be stopped
  | 'fire_rating' // a rated wall needs its tested system
  | 'local_rules'
  | 'heavy_loads'; // what hangs on the wall is fixed through to the masonry

/** One step of the work in its order: `C` = its code. */
export interface WorkStepOf<C extends WorkCode> {
  /** Unlike any other step's, and the same for the same work: what is ticked off (Lining.done). */
  readonly id: string;
  readonly stage: WorkStage;
  readonly code: C;
  /** Ids of the boards, screws, spots, strips or boxes it is about; of a mix, its numbers. */
  readonly of: readonly string[];
  readonly figures: Readonly<WorkFigures[C]>;
  readonly cautions: readonly WorkCaution[];
}

export type WorkStep = { [C in WorkCode]: WorkStepOf<C> }[WorkCode];
