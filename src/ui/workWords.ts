import type { WorkCaution, WorkCode, WorkStep, WorkStepOf } from '../core/liningPlan.ts';
import { formatArea } from './next/nextWords.ts';
import { formatLength, type Units } from './units.ts';

type Sentence<C extends WorkCode> = (of: Pick<WorkStepOf<C>, 'figures' | 'of'> & { units: Units }) => string;

/**
 * A count with its thing.
 * @example countOf(1, 'board') // '1 board'
 * @example countOf(3, 'mix', 'mixes') // '3 mixes'
 */
export const countOf = (count: number, thing: string, things = `${thing}s`): string =>
  `${count} ${count === 1 ? thing : things}`;

/**
 * A time as it is said: minutes, or hours from two hours on, to a quarter.
 * @example sayMinutes(17.6) // '18 min'
 * @example sayMinutes(150) // '2.5 h'
 */
export function sayMinutes(minutes: number): string {
  return minutes < 120 ? `${Math.round(minutes)} min` : `${Math.round(minutes / 15) / 4} h`;
}

const kilograms = (massKg: number) => `${Number(massKg.toFixed(1))} kg`;
const litres = (volumeL: number) => `${Number(volumeL.toFixed(1))} L`;
const percent = (share: number) => `${Number((100 * share).toFixed(share < 0.095 ? 1 : 0))} %`;
const degrees = (temperatureC: number) => `${temperatureC} °C`;
const metres = (lengthMm: number, units: Units) =>
  units === 'inch' ? `${Math.round(lengthMm / 304.8)} ft` : `${(lengthMm / 1000).toFixed(1)} m`;
const leanOf = (leanMmPerM: number, units: Units) =>
  formatLength(units === 'inch' ? 3.048 * leanMmPerM : leanMmPerM, units);
const sideOf = (behindMm: number, units: Units) =>
  `${formatLength(Math.abs(behindMm), units)} ${behindMm < 0 ? 'before' : 'behind'} it`;
const names = (ids: readonly string[]) =>
  ids.length > 1 ? `${ids.slice(0, -1).join(', ')} and ${ids.at(-1)}` : (ids[0] ?? '');
const boardNames = (ids: readonly string[]) => `${ids.length === 1 ? 'board' : 'boards'} ${names(ids)}`;

/** What each step of the work says, in the words of the trade. A code without a sentence does not compile. */
export const workSentences: { readonly [C in WorkCode]: Sentence<C> } = {
  other_way: ({ figures: { overMaxShare, overPackedShare } }) =>
    `Think again before you start: ${percent(overMaxShare)} of the wall is too deep for adhesive alone and ${percent(overPackedShare)} even with packing. A frame or plaster suits it better.`,
  bring: ({ figures: { sheets, boards, bags, bagKg, waterL, screws } }) =>
    `Bring ${sheets > 0 ? `${countOf(sheets, 'sheet')} for ` : ''}${countOf(boards, 'board')}, ${countOf(bags, 'bag')} of adhesive at ${kilograms(bagKg)}, ${litres(waterL)} of clean water and ${countOf(screws, 'gauge screw')} with plugs. The building must keep the rain out.`,
  check_wall: ({ figures: { areaM2, leastC } }) =>
    `Go over the whole wall (${formatArea(areaM2)}): it must be sound and dry, and wall and air at ${degrees(leastC)} or more until the adhesive is dry.`,
  clear_wall: () =>
    'Take off loose plaster, paint, wallpaper and release oil, brush off the dust. Coat bare steel against rust.',
  hack_off: ({ figures: { spots, areaM2, deepestMm }, units }) =>
    `Hack off ${countOf(spots, 'high spot')} (${formatArea(areaM2)}), up to ${formatLength(deepestMm, units)} deep, and lay a straightedge over each.`,
  dub_out: ({ figures: { areaM2, packedMaxMm, coatMm }, units }) =>
    `Dub out ${formatArea(areaM2)} that lies deeper than ${formatLength(packedMaxMm, units)}, in keyed coats of ${formatLength(coatMm, units)} at most, and let each harden.`,
  prime: ({ figures: { dryMin } }) =>
    `Wet the wall with a brush. Where it drinks at once, damp it down or prime it against suction; where it is smooth and dense, use a bonding primer. Let it dry ${sayMinutes(dryMin)} or as its tin says.`,
  set_laser: ({ figures: { leftMm, rightMm, boardMm, leanMmPerM }, units }) => {
    const isEven = Math.abs(leftMm - rightMm) < 0.05;
    const ends = isEven
      ? `${sideOf(leftMm, units)} all along the floor`
      : `${sideOf(leftMm, units)} at the left end of the floor and ${sideOf(rightMm, units)} at the right`;
    const outward = leanMmPerM > 0 ? 'further out' : 'further back';
    const lean =
      Math.abs(leanMmPerM) < 0.05
        ? ''
        : `, and ${leanOf(Math.abs(leanMmPerM), units)} ${outward} for each ${units === 'inch' ? '10 ft' : 'metre'} up`;
    return `Set the laser's upright plane as it was for the readings. The back of the boards stands ${ends}${lean}; their face is ${formatLength(boardMm, units)} nearer to you.`;
  },
  mark_out: ({ figures: { boards, joints, floorGapMm }, units }) =>
    `Mark ${countOf(boards, 'board')}, ${countOf(joints, 'joint')} and every gauge screw on the wall; the boards start ${formatLength(floorGapMm, units)} above the floor.`,
  trace_services: ({ figures: { boxes, screws } }) =>
    `Go over the wall with a detector and mark cables and pipes${boxes > 0 ? `, first up, down and across from the ${countOf(boxes, 'box', 'boxes')}` : ''}.${screws > 0 ? ` ${countOf(screws, 'screw stands', 'screws stand')} where they are likely: move ${screws === 1 ? 'it' : 'them'} if you find any.` : ''}`,
  set_screws: ({ figures: { screws, leastMm, mostMm, services, drillMm, plugMm }, units }) =>
    `Drill ${formatLength(drillMm, units)} for plugs of ${formatLength(plugMm, units)} and set ${countOf(screws, 'gauge screw')}, each as far out as its list says (${formatLength(leastMm, units)} to ${formatLength(mostMm, units)})${services > 0 ? `; ${services} of them near likely cables or pipes` : ''}.`,
  check_screws: ({ figures: { toleranceMm }, units }) =>
    `Check the heads with straightedge and laser: each within ${formatLength(toleranceMm, units)}. Write down how far out they really stand.`,
  cut_packing: ({ figures: { strips, pieces, lengthMm }, units }) =>
    `Cut ${countOf(pieces, 'piece')} of board, ${metres(lengthMm, units)} in all, for ${countOf(strips, 'packing strip')}.`,
  bond_packing: ({ figures: { strips, volumeL, minutes }, of }) =>
    `Bond ${strips === 1 ? 'packing strip' : 'packing strips'} ${names(of)} with ${litres(volumeL)} of adhesive, each pressed to its depth; about ${sayMinutes(minutes)}.`,
  wait_packing: ({ figures: { minutes } }) =>
    `Let the packing strips set for ${sayMinutes(minutes)} before any board leans on them.`,
  cut_boards: ({ figures: { boards, sheets, cuts } }) =>
    `Cut ${countOf(boards, 'board')}${sheets > 0 ? ` from ${countOf(sheets, 'sheet')}` : ''}${cuts > 0 ? ` with ${countOf(cuts, 'cut')}` : ''}, with their holes, and write its letter on each.`,
  dry_fit: ({ figures: { boards, heavy, heaviestKg, floorGapMm }, units }) =>
    `Try ${boards === 1 ? 'the board' : `all ${boards} boards`} dry on packers of ${formatLength(floorGapMm, units)}: it must lie on every screw head and touch no wall.${heavy > 0 ? ` ${countOf(heavy, 'board takes', 'boards take')} two to lift; the heaviest is ${kilograms(heaviestKg)}.` : ''}`,
  mix_trial: ({ figures: { powderKg, waterL, restMin, potLifeMin, used } }) =>
    `Make a small first mix: ${kilograms(powderKg)} of powder into ${litres(waterL)} of water, ${restMin} min to rest, then stir. See how stiff it comes and when it goes off (${potLifeMin} min is reckoned). ${used > 0 ? 'Use it on what comes next.' : 'Then throw it away.'}`,
  mix: ({ figures: { powderKg, waterL, buckets, restMin, minutes }, of }) =>
    `${of.length === 1 ? `Mix ${of[0]}` : `Mixes ${names(of)}, together`}: ${kilograms(powderKg)} of powder into ${litres(waterL)} of water${buckets > 1 ? ' in each bucket' : ''}, ${restMin} min to rest, then stir. In use for ${sayMinutes(minutes)}.`,
  fix_board: ({ figures: { dabs, strips, volumeL, minutes }, of }) =>
    `Board ${of[0]}: put on ${[...(dabs > 0 ? [countOf(dabs, 'dab')] : []), ...(strips > 0 ? [countOf(strips, 'strip')] : [])].join(' and ') || 'the adhesive'} (${litres(volumeL)}), lift it on to the packers, press it home on the screws and check it with the straightedge; about ${sayMinutes(minutes)}.`,
  fix_reveals: ({ figures: { volumeL, minutes }, of }) =>
    `Line the reveals with ${boardNames(of)}: a strip of adhesive along both edges (${litres(volumeL)}), square to the face; about ${sayMinutes(minutes)}.`,
  let_go: ({ figures: { minutes } }) =>
    `Hold or brace each board for ${sayMinutes(minutes)} once it is pressed home; do not move it after that.`,
  take_packers: ({ figures: { minutes } }) =>
    `Leave the packers under each board for ${sayMinutes(minutes)}, until its adhesive has set, then take them out.`,
  wait_set: ({ figures: { minutes, leastC } }) =>
    `Leave the boards for ${sayMinutes(minutes)} after the last one, at ${degrees(leastC)} or more, before you fill joints or drill through them.`,
  seal_gaps: ({ figures: { floorGapMm, ceilingGapMm, lengthMm, boxes }, units }) =>
    `Seal all round without a break (${metres(lengthMm, units)}): ${formatLength(floorGapMm, units)} at the floor, ${formatLength(ceilingGapMm, units)} at the ceiling, ends and openings${boxes > 0 ? `, and round ${countOf(boxes, 'box', 'boxes')}` : ''}.`,
  secondary_fix: ({ figures: { fixings, perBoard } }) =>
    `Drive ${countOf(fixings, 'nailable plug')} through the boards into the masonry, ${perBoard} to each, near the long edges and at mid-height.`,
  fill_joints: ({ figures: { joints, lengthMm, leastC }, units }) =>
    `${joints > 0 ? `Tape and fill ${countOf(joints, 'joint')} (${metres(lengthMm, units)})` : 'Fill the holes'} at ${degrees(leastC)} or more.`,
  clean_up: ({ figures: { mixes, wasteShare } }) =>
    `Wash the ${countOf(mixes, 'bucket', 'buckets')} away from drains, bag the offcuts (${percent(wasteShare)} of the board) apart from other waste, and hand over this plan: it shows where the adhesive is.`,
};

/** What each caution says. A caution without a sentence does not compile. */
export const cautionSentences: { readonly [C in WorkCaution]: string } = {
  old_coatings:
    'Old coatings and boards may hold asbestos or lead. If the house may be older than the ban where you are, have a sample tested before you scrape, hack or drill.',
  damp_wall:
    'Never bond to a damp wall, below ground, or where salts bloom. Find the cause of any damp and let the wall dry first.',
  cold_wall:
    'This is an external wall: without insulation the masonry behind the boards stays cold, and room air that leaks in can leave damp and mould. Ask who designs the insulation first.',
  party_sound:
    'This is a party wall: boards on dabs can let more sound through than the bare wall. Ask for a lining made for sound.',
  stone_dust: 'Masonry dust harms the lungs. Use suction at the tool or water, and a mask that fits.',
  board_dust: 'Score and snap rather than saw; when you saw or sand, use suction and a mask.',
  bare_steel: 'Wet gypsum makes bare steel rust: coat beads, brackets and lintels first.',
  laser_light:
    'Never look along the laser light or at it through a lens. Use a laser marked class 2 at most and keep its plane away from eyes.',
  services:
    'Cables and pipes may run hidden, straight up, down and across from boxes, along the top and in the corners. Detect before you drill; if in doubt, do not.',
  live_boxes: 'Boxes are made dead before anything is done at them, and moved only by someone licensed to.',
  lifting: 'Two people for each board marked so: carry it on edge, lift with the legs, use a foot lifter.',
  clean_bucket: 'Clean bucket, clean water, clean whisk.',
  no_retemper:
    'Never add water to a mix that stiffens: throw it away. Old gypsum left in the bucket makes the next go off early.',
  over_pot_life:
    'At your pace this goes off before the board is pressed. Get a second pair of hands, or use a narrower board.',
  temperature: 'Keep the room warm enough, free of frost and draught, and do not heat it hard.',
  air_seal:
    'The strips along the bottom, round boxes and openings, and at the edges where sealing is asked, must have no gap: they stop air and smoke behind the boards.',
  fire_rating:
    'Dabs are no fire-rated system. Where the wall is rated, keep to the tested system and its stopping.',
  local_rules: 'The rules and codes where you build come before this plan.',
  heavy_loads:
    'Radiators, cupboards and the like are fixed through to the masonry, with the gap bridged, never to the board alone.',
};

/** The sentence of a step of the work, lengths in the survey's units. */
export function sayStep(step: WorkStep, units: Units): string {
  const say = workSentences[step.code] as (of: WorkStep & { units: Units }) => string;
  return say({ ...step, units });
}

/**
 * The sentence of a caution.
 * @example sayCaution('clean_bucket') // 'Clean bucket, clean water, clean whisk.'
 */
export function sayCaution(caution: WorkCaution): string {
  return cautionSentences[caution];
}
