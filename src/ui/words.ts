import type { Stop, Trouble } from '../app/trouble.ts';
import type { VerdictReason, WayFigures } from '../core/liningPlan.ts';
import type { Refusal, RefusalCode, WarningCode } from '../core/refusal.ts';
import type { LiningCaution, LiningWay } from '../core/results.ts';

type Sentences<T extends { code: string }> = {
  readonly [C in T['code']]: (of: Extract<T, { code: C }>) => string;
};

const mm = (lengthMm: number) => `${Number(lengthMm.toFixed(1))} mm`;
const percent = (share: number) => `${Number((100 * share).toFixed(share < 0.1 ? 1 : 0))} %`;
const square = (areaM2: number) => `${areaM2.toFixed(2)} m²`;
const points = (count: number) => `${count} ${count === 1 ? 'mark' : 'marks'}`;

/** What every refusal says: what is wrong, and what to do next. A code without a sentence does not compile. */
export const sentences: Sentences<Refusal> = {
  not_a_picture: ({ file }) =>
    `${file} cannot be read as a picture. Choose a JPEG or PNG photograph, straight from the phone.`,
  picture_kind_unknown: ({ file, kind }) =>
    kind === 'heic'
      ? `${file} is a HEIC picture, which this browser cannot read. Set the phone's camera to "most compatible" (JPEG) and take it again, or save a JPEG copy and choose that.`
      : `${file} is a picture of the kind ${kind.toUpperCase()}, which cannot be measured. Choose a JPEG or PNG photograph, straight from the phone.`,
  picture_too_large: ({ widthPx, heightPx }) =>
    `A picture of ${widthPx} × ${heightPx} px is too large for this device's memory. Set the camera to 12 megapixels and take it again.`,
  picture_too_small: ({ widthPx, heightPx }) =>
    `A picture of ${widthPx} × ${heightPx} px is too small to measure in. Use the phone's own full-size photograph, not a copy sent by a messenger.`,
  no_line: ({ photo }) =>
    `No laser line was found in photo ${photo}. Check that the line shows on the wall; darken the room or take the photo again.`,
  photo_missing: ({ photo, file }) =>
    `The picture ${file} of photo ${photo} is not here. Add it again, or open the survey as a ZIP with its photos.`,
  marks_few: ({ photo, count }) =>
    `Photo ${photo} has ${count === 0 ? 'no marks' : `only ${points(count)}`}. Set at least two tape marks, four if you can: click a graduation in the picture and type where it is on the wall.`,
  marks_at_one_place: ({ photo, first, second }) =>
    `Marks ${first + 1} and ${second + 1} of photo ${photo} are at one place. Move one of them, or correct what was typed.`,
  mark_outside_picture: ({ photo, mark }) =>
    `Mark ${mark + 1} of photo ${photo} lies outside the picture. Set it again on the picture, or take it away.`,
  stand_missing: ({ photo }) =>
    `Photo ${photo} does not say where the phone stood. Measure the phone's distance off the wall and its height above the floor, and type them in.`,
  stand_weak: ({ photo, offsetSigmaMm }) =>
    `Photo ${photo} cannot be placed well enough: a wall offset in it would be good to ±${mm(offsetSigmaMm)} only. Add marks towards the ends of the tape, or measure where the phone stood.`,
  stand_on_sheet: ({ photo, line, asideMm }) =>
    `Photo ${photo} was taken only ${mm(asideMm)} aside from the light of line ${line}, so the line looks straight whatever the wall does. Take it again from further to the side: a third of the distance to the wall at least.`,
  line_height_missing: ({ photo, line }) =>
    `Line ${line} in photo ${photo} has no position. Type its height above the floor (level line) or its distance from the left end (plumb line).`,
  edges_few: ({ count }) =>
    `${count === 0 ? 'No edge is marked' : 'One edge says little'}: it could be bent itself. Mark at least two, better four, along different sides of the picture.`,
  edge_short: ({ edge }) =>
    `Edge ${edge + 1} is too short. Mark a string or edge that runs over most of the picture.`,
  edge_not_traced: ({ edge }) =>
    `Nothing straight was found between the two ends of edge ${edge + 1}. Set each end on the string or edge itself, or choose one that stands out more.`,
  edges_central: () =>
    'The edges run too near the middle of the picture, where a lens bends nothing. Mark one near the top and one near the bottom, or near the left and the right side.',
  edge_not_straight: ({ edge }) =>
    `Edge ${edge + 1} is bent unlike the others, so it is not straight itself or was traced wrongly. Take it away, or mark it again.`,
  edges_disagree: ({ sigma }) =>
    `The edges do not agree with each other (k1 to ±${sigma.toFixed(3)} only). Use a taut string, or a long straightedge, at several places of the picture.`,
  readings_few: ({ count }) =>
    `There ${count === 1 ? 'is 1 reading' : `are ${count} readings`}. Take at least three from the laser's plane back to the wall, spread over the wall.`,
  readings_in_line: ({ count }) =>
    `All ${count} readings lie in one line, so the wall could still lean either way. Take one more well away from that line.`,
  nothing_measured: () =>
    'There is nothing to make a surface from. Find the line in at least one photo, or take three rule readings.',
  nothing_to_line: () => 'No part of the wall is left to line. Check the size of the wall and its openings.',
  survey_not_json: ({ file }) =>
    `${file} is not a survey: its text is not readable. Choose a survey file (survey.json) or a survey ZIP saved by this tool.`,
  survey_not_ours: ({ file }) =>
    `${file} is not a survey of this tool. Choose a survey file (survey.json) or a survey ZIP.`,
  survey_too_new: ({ version, known }) =>
    `This survey was saved by a newer version (file version ${version}; this page knows up to ${known}). Update this page, then open it again. The file was not changed.`,
  survey_field_wrong: ({ path, problem }) =>
    `The survey file has a fault at ${path}: ${problem}. Correct it there and open it again. The survey that is open stays as it is.`,
  archive_unreadable: ({ file }) =>
    `${file} cannot be unpacked. Fetch the ZIP again; if it came by e-mail it may be cut short.`,
  profile_not_ours: ({ file }) =>
    `${file} is not a profile of settings saved by this tool. Choose a profile file; a survey is opened under Surveys.`,
  profile_field_wrong: ({ file, path, problem }) =>
    `The profile ${file} has a fault at ${path}: ${problem}. Correct it there and open it again; nothing was changed.`,
  file_not_found: ({ file }) => `${file} is not there. Check the name and the folder.`,
};

/** What trouble on this device says. */
export const troubles: Sentences<Trouble> = {
  worker_lost: () =>
    'The part that does the sums stopped, most likely for want of memory. Close other pages and start it again; your survey is safe.',
  worker_slow: () =>
    'The part that does the sums did not start. Reload the page and try again; your survey is safe.',
  not_saved: ({ reason }) =>
    `Not saved on this device (${reason}). Go on working, and save the survey as a ZIP under Papers before you close the page.`,
  photo_not_kept: ({ file }) =>
    `${file} could not be kept on this device, which may be full. It is used until the page is closed: save the survey as a ZIP under Papers.`,
  survey_unreadable: ({ title }) =>
    `The survey "${title}" on this device cannot be read. Open its saved file instead; nothing was deleted.`,
  sample_missing: () =>
    'The sample survey is not among the files of this page. Load the page again with a network.',
  profiles_not_kept: ({ reason }) =>
    `The profile is not kept on this device (${reason}). Its figures are in this survey; save the profile as a file to take it along.`,
  profiles_unreadable: ({ count }) =>
    `${count === 1 ? 'One profile' : `${count} profiles`} on this device cannot be read by this version. Nothing was deleted; update this page, or open the profile from its file.`,
  export_failed: ({ what }) =>
    `The ${what} could not be made on this device. Try another format, or another browser.`,
  bug: ({ message }) =>
    `Something went wrong in this page (${message}). Your survey is saved; go on, or reload the page.`,
};

/**
 * The sentence of a refusal.
 * @example sayRefusal({ code: 'file_not_found', file: 'a.json' }) // 'a.json is not there. Check the name and the folder.'
 */
export function sayRefusal(refusal: Refusal): string {
  return (sentences[refusal.code] as (of: Refusal) => string)(refusal);
}

const isTrouble = (stop: Stop): stop is Trouble => stop.code in troubles;

/** The sentence of anything that stopped a job. */
export function sentenceOf(stop: Stop): string {
  return isTrouble(stop) ? (troubles[stop.code] as (of: Trouble) => string)(stop) : sayRefusal(stop);
}

/** Codes that have a sentence, for the test that looks at each. */
export const refusalCodes = Object.keys(sentences) as RefusalCode[];

/** What every warning says; `subject` names what it is about ("Photo f1") or several of a kind ("Photos f1, f2"), `count` how many. */
export const warningSentences: {
  readonly [C in WarningCode]: (subject: string, count: number) => string;
} = {
  no_line: (subject) =>
    `${subject}: no laser line found yet, so nothing comes from there. Look for it; where none is found, darken the room and take the picture again, or set points by hand.`,
  pin_unseen: (subject, count) =>
    `${subject}: no light of the line is seen ${count === 1 ? 'where you put a pin' : `at ${count} of your pins`}, so no points were made there. Move the pin, correct how the line runs and its colour, or set points by hand.`,
  off_wall: (subject, count) =>
    `${subject}: where the line falls into an opening, over a box's edge or beyond the wall's ends it is left out (${count} ${count === 1 ? 'point' : 'points'}).`,
  laser_off_unfit: (subject) =>
    `${subject}: the picture with the laser off cannot be laid on this one, so it is not used. Take it again from the same place, with only the laser switched.`,
  photo_missing: (subject) => `${subject}: the picture is not here. Add it again.`,
  photo_unreadable: (subject) =>
    `${subject}: the picture cannot be read, so nothing comes from it. Save it as a JPEG and add it again.`,
  photo_left_out: (subject) =>
    `${subject}: left out, or a line of it: the line's height, marks or the phone's position are missing or too weak. Type the height, add tape marks or measure where the phone stood.`,
  photo_small: (subject) =>
    `${subject}: fewer than 8 megapixels, so expect a wider uncertainty. Use the phone's own full-size photograph.`,
  photo_cropped: (subject) =>
    `${subject}: its shape is not one that cameras make, so it seems to be cut. Use the whole photograph, for the sums take its middle as the lens's.`,
  photo_wide: (subject) =>
    `${subject}: taken with the ultra-wide camera, which bends lines most. Step back and use the main camera.`,
  photo_zoomed: (subject) =>
    `${subject}: taken with a zoom, which adds no detail and hides the lens's focal length. Take it again without, from nearer.`,
  photo_blurred: (subject) =>
    `${subject}: nothing in it is sharp. Take it again: tap the line to focus, and hold the phone still against something.`,
  photo_size_odd: (subject) =>
    `${subject}: another size than this phone's other photos, so it may be a shrunk or cut copy. Add the phone's own picture, or leave the camera's settings alone between photos.`,
  photo_reduced: (subject) =>
    `${subject}: this device has no memory for the whole picture, so it was measured at a smaller size; expect a wider uncertainty. Set the camera to 12 megapixels, or close other pages and find the line again.`,
  no_readings: () =>
    'Without rule readings the lean and the distance of the wall are unknown. Take three or more readings, spread over the wall.',
  reading_suspect: (subject) => `${subject}: does not agree with the rest. Measure it again.`,
  line_suspect: (subject) =>
    `${subject}: does not agree with the rest. Check the height typed for it, its marks and its found points.`,
  marks_suspect: (subject) =>
    `${subject}: the marks do not agree with each other. Check what was typed for each.`,
  stand_suspect: (subject) =>
    `${subject}: where the phone stood, as measured, does not agree with marks and lines. Measure it again.`,
  station_mixed: (subject) =>
    `${subject}: it cannot have been taken by the unmoved phone it is put with, since phone, picture size or focal length differ. It stands for itself.`,
  block_suspect: (subject) =>
    `${subject}: the packer on the line does not come out as thick as was typed. Check its thickness and the stretch marked for it, then the marks and where the phone stood.`,
  block_unseen: (subject) =>
    `${subject}: too little of the packer, or of the wall beside it, shows on the line. Mark the stretch that lies on its face, and leave some line to either side.`,
  box_suspect: (subject) =>
    `${subject}: by the line across it, it stands out of the wall otherwise than was typed. Measure it again, or type what the line shows.`,
  surface_uncertain: () =>
    'More than a tenth of the wall is known to no better than ±3 mm. Add a line or a reading where none is near.',
  bed_over_max: () =>
    'Part of the wall is too deep for one bed of adhesive. Bond packing strips of board there first.',
  bed_over_packed: () =>
    'Part of the wall is too deep for direct bonding even with packing. Dub it out first, or line it on a frame.',
  bed_may_be_thin: () =>
    'At the high point the bed may come out thinner than the minimum. Hack the high point off, or add a reading beside it.',
  board_too_short: () =>
    'The board does not reach the ceiling. Choose a longer board, or plan a cut piece with a taped joint.',
  floor_gap_wide: () =>
    'The boards are a little short for the wall: set them tight to the ceiling and let the skirting board hide the gap at the floor. Seal that gap, or choose longer boards.',
  joint_at_corner: (subject) =>
    `${subject}: a board joint falls at its corner, where it would crack. Set out from the other end, or cut the board round the corner.`,
  joint_at_box: (subject) =>
    `${subject}: a board joint runs through it. Set out from the other end, or tape and fill that joint with care.`,
  wish_not_kept: (subject) =>
    `${subject}: cannot be kept together with what else is wished of the boards' plane. See under "Plane and bed" which wish would have to give way, and by how much.`,
  board_not_in_stock: (subject) =>
    `${subject}: no board on hand is large enough. Add a longer or wider size to the stock.`,
  sheet_tight: (subject) =>
    `${subject}: its pieces fill it to within the tolerance boards are made to. Measure it before cutting; if it is short, share the loss where it does not show.`,
  cutting_not_proven: (_wall, count = 1) =>
    `The cutting list is the best that was found; ${count === 1 ? 'one stock board' : `${count} stock boards`} fewer might do.`,
  screw_too_short: (_wall, count = 1) =>
    `${count === 1 ? 'One gauge screw needs' : `${count} gauge screws need`} a longer screw than any on hand. Add the length to the stock of screws.`,
  screw_at_services: (_wall, count = 1) =>
    `${count === 1 ? 'One gauge screw stands' : `${count} gauge screws stand`} where cables or pipes are likely. Trace them with a detector before drilling.`,
  screw_off: (_wall, count = 1) =>
    `${count === 1 ? 'One gauge screw is' : `${count} gauge screws are`} set out of tolerance. Turn them to the figure of the plan.`,
  board_binds: (subject) =>
    `${subject}: will not lie on the screws as they were set. See which screw to turn, or hack off where it bears.`,
  packing_shallow: (subject, count = 1) =>
    `${subject}: ${count === 1 ? 'one dab is' : `${count} dabs are`} deeper than adhesive should be, where no packing strip has room. Dub out there first, or bring them up in two goes.`,
  contact_short: (subject, count = 1) =>
    `${subject}: its dabs hold ${count} % less of it than you ask for; there is no room for more. Spread the adhesive all over there.`,
  mix_outlasts_pot: (subject) =>
    `${subject}: at the pace in the settings the adhesive goes off before it is pressed. Use narrower boards, more hands or an adhesive with a longer pot life, or correct the pace.`,
  strip_narrow: (subject) =>
    `${subject}: a narrow strip, awkward to bond. Set out from the other end, or cut two wider strips.`,
};

/**
 * The sentence of one warning.
 * @example warningSentence('reading_suspect', 'Reading r2') // 'Reading r2: does not agree with the rest. Measure it again.'
 */
export function warningSentence(code: WarningCode, subject: string, count = 1): string {
  return warningSentences[code](subject, count);
}

/** The short answer whether the wall can be lined on dabs. */
export const waySentences: { readonly [W in LiningWay]: string } = {
  direct_bond: 'This wall can be lined on adhesive dabs as it is.',
  pack_first:
    'This wall can be lined on dabs after packing strips of board are bonded where the bed is too deep.',
  frame_or_plaster:
    'Too much of this wall is too deep for dabs. Dub it out and survey it again, or line it on a frame.',
};

/** Why the wall suits that way. */
export const reasonSentences: Sentences<VerdictReason> = {
  within_limits: ({ maxBedMm }) =>
    `Nowhere is the bed deeper than the adhesive may be: ${mm(maxBedMm)} at most.`,
  over_max: ({ share, areaM2, maxBedMm }) =>
    `${percent(share)} of the wall (${square(areaM2)}) is deeper than the adhesive alone may be; the deepest bed is ${mm(maxBedMm)}.`,
  beyond_packing: ({ share, areaM2 }) =>
    `${percent(share)} of the wall (${square(areaM2)}) is deeper than packing strips can make up.`,
  likely_over_max: ({ areaM2, expectedM2 }) =>
    `As well as the wall is known, expect ${square(expectedM2)} over the adhesive's limit, not ${square(areaM2)}. More readings there would tell.`,
  hacking_off: ({ spots, overMaxShare, overPackedShare }) =>
    `With ${spots === 1 ? 'one spot' : `${spots} spots`} hacked off ${percent(overMaxShare)} would be over the adhesive's limit and ${percent(overPackedShare)} beyond packing.`,
};

/** The ways of lining that are set side by side. */
export const wayNames: { readonly [W in WayFigures['way']]: string } = {
  bonded: 'Boards on adhesive',
  frame: 'Boards on a frame',
  plaster: 'Gypsum plaster',
};

/** What to think of before lining this wall. */
export const liningCautions: { readonly [C in LiningCaution]: string } = {
  external_wall_uninsulated:
    'An outside wall lined without insulation gets a cold face behind the boards: damp and mould may follow. Have the build-up checked, and seal every edge with a continuous bead.',
  party_wall_sound:
    'On a party wall, boards on dabs can let more sound through than the bare wall did. Ask before lining it.',
  horizontal_joint:
    'The board does not reach the ceiling, so a joint across the wall will show. Choose a longer board if you can.',
  high_point_unsure:
    'At the high point the bed may come out thinner than the minimum. Check it with a rule before mixing, or hack it off.',
};

/** What every sheet of the job says beside its numbers. */
export const siteCautions: readonly string[] = [
  'Laser: class 2 at most. Never look into the beam or along the sheet of light, and keep mirrors and glass out of it.',
  'Hidden cables and pipes: trace them with a detector before drilling for gauge screws or plugs, most of all straight above, below and beside sockets, switches and taps.',
  'Dust: hacking off and drilling masonry sets free fine silica. Wet it or draw it off, and wear a mask of at least class FFP3.',
  'Old coatings: textured coatings, old boards and old paint may hold asbestos or lead. Have them tested before you scrape.',
  'Lifting: a full board weighs 25 kg or more, a bag of adhesive as much. Two people for each board, carried on edge.',
  'Damp: never line a damp wall. On outside walls a cold face behind the boards can gather water: have the build-up checked.',
  'Fire and air: a continuous bead of adhesive round every edge, opening and box. A wall with a fire rating needs its tested system; dabs alone are none.',
  'Local building rules, the makers of board and adhesive, and licensed electricians and engineers have the last word over this plan.',
];
