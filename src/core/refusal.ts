/**
 * What the user can put right. A refusal is data: a code and the numbers or names its sentence needs.
 * The sentences are in ui/words.ts, typed by this union, so that a code without a sentence does not compile.
 */
export type Refusal =
  // pictures and lines
  | { code: 'not_a_picture'; file: string }
  | { code: 'picture_kind_unknown'; file: string; kind: string }
  | { code: 'picture_too_large'; widthPx: number; heightPx: number }
  | { code: 'picture_too_small'; widthPx: number; heightPx: number }
  | { code: 'no_line'; photo: string }
  | { code: 'photo_missing'; photo: string; file: string }
  // marks and stand
  | { code: 'marks_few'; photo: string; count: number }
  | { code: 'marks_at_one_place'; photo: string; first: number; second: number }
  | { code: 'mark_outside_picture'; photo: string; mark: number }
  | { code: 'stand_missing'; photo: string }
  | { code: 'stand_weak'; photo: string; offsetSigmaMm: number }
  | { code: 'stand_on_sheet'; photo: string; line: string; asideMm: number }
  | { code: 'line_height_missing'; photo: string; line: string }
  // lens check; edge = index of the straight thing
  | { code: 'edges_few'; count: number }
  | { code: 'edge_short'; edge: number }
  | { code: 'edge_not_traced'; edge: number }
  | { code: 'edges_central' }
  | { code: 'edge_not_straight'; edge: number }
  | { code: 'edges_disagree'; sigma: number }
  // readings and solve
  | { code: 'readings_few'; count: number }
  | { code: 'readings_in_line'; count: number }
  | { code: 'nothing_measured' }
  // lining
  | { code: 'nothing_to_line' }
  // survey file
  | { code: 'survey_not_json'; file: string }
  | { code: 'survey_not_ours'; file: string }
  | { code: 'survey_too_new'; version: number; known: number }
  | { code: 'survey_field_wrong'; path: string; problem: string }
  | { code: 'archive_unreadable'; file: string }
  | { code: 'profile_not_ours'; file: string }
  | { code: 'profile_field_wrong'; file: string; path: string; problem: string }
  | { code: 'file_not_found'; file: string };

export type RefusalCode = Refusal['code'];

/** The one error class of kind 1 (DEVELOPERS.md, "Errors"): carries the refusal as data. */
export class Refused extends Error {
  constructor(readonly refusal: Refusal) {
    super(refusal.code);
    this.name = 'Refused';
  }
}

/** Stops with a refusal that the user can put right. @throws the given code, always */
export function refuse(refusal: Refusal): never {
  throw new Refused(refusal);
}

/** Something the user should know that does not stop the work; `subject` is the id of what it is about. */
export interface Warning {
  readonly code: WarningCode;
  readonly subject: string;
  /** How many, where that is worth telling. */
  readonly count?: number;
}

export type WarningCode =
  | 'no_line' // no laser line in the photograph: the profile stays empty
  | 'pin_unseen' // no light near a pin (count = how many pins)
  | 'off_wall' // points seen in openings, at boxes' edges or beyond the wall's ends, left out (count)
  | 'laser_off_unfit' // the picture with the laser off shows another view, or is not there: not used
  | 'photo_missing' // the survey names a picture that is not there
  | 'photo_unreadable' // what it names is not a picture that can be read
  | 'photo_left_out' // its evidence is too weak or missing; the photograph, or a line of it, takes no part
  | 'photo_small' // fewer than about 8 megapixels
  | 'photo_cropped' // a shape that no camera makes
  | 'photo_wide' // an ultra-wide camera
  | 'photo_zoomed' // a digital zoom, or a longer focal length than the phone's other photos
  | 'photo_blurred' // no edge in it is sharp
  | 'photo_size_odd' // another size than most photos of the same phone
  | 'photo_reduced' // no memory for the whole picture: measured at a smaller size
  | 'no_readings' // lean and distance of the wall unknown
  | 'reading_suspect' // standardised residual over 3.29
  | 'line_suspect'
  | 'marks_suspect'
  | 'stand_suspect' // where the phone stood, as measured, contradicts marks and lines
  | 'station_mixed' // said to be of an unmoved phone whose first photo is of another phone, picture size or focal length
  | 'block_suspect' // a packer's thickness does not agree with marks and stand
  | 'block_unseen' // too few points on a packer's face or on the wall beside it
  | 'box_suspect' // a box stands out of the wall otherwise than was typed
  | 'surface_uncertain' // sigma over 3 mm on more than a tenth of the wall
  | 'bed_over_max' // some of the wall needs packing strips first
  | 'bed_over_packed' // some of the wall is beyond direct bonding
  | 'bed_may_be_thin' // within one sigma of the minimum at the high point
  | 'board_too_short' // the stock board does not reach the ceiling
  | 'joint_at_corner' // a board joint that cannot be kept clear of an opening's corner
  | 'joint_at_box' // a board joint that cannot be kept clear of a box
  | 'floor_gap_wide' // the stock board is a little short; the gap is at the floor
  | 'wish_not_kept' // a wish on the bed plane cannot be kept with the others (subject = the wish)
  | 'board_not_in_stock' // no stock board is large enough for a board
  | 'sheet_tight' // the pieces of a stock board fill it to within its tolerance: it may be a few mm too small (subject = the stock board)
  | 'cutting_not_proven' // the search for the fewest sheets stopped before its end (count = sheets that might be saved)
  | 'screw_too_short' // no screw on hand is long enough (count = how many)
  | 'screw_at_services' // screws where cables or pipes are likely (count)
  | 'screw_off' // screws set out of tolerance (count)
  | 'board_binds' // a board will bear on the masonry or rock on its screws as set
  | 'packing_shallow' // dabs deeper than the adhesive may be where no packing strip leaves room for its own (count)
  | 'contact_short' // no room behind a board for the contact that is asked for (count = percent missing)
  | 'mix_outlasts_pot' // a mix goes off before the board is pressed, at the pace set
  | 'strip_narrow'; // an unavoidable narrow strip of board
