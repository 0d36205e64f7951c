import type { Warning } from '../refusal.ts';
import type { LiningCaution, LiningWay, Verdict, ZoneShare } from '../results.ts';
import type { Wall } from '../survey.ts';
import type { LiningSettings } from './defaults.ts';

/** A smaller share of the wall than this is a speck, no reason for packing: 0.1 %, a hand's breadth square on 10 m2. */
const speck = 0.001;

const shareOf = (zones: readonly ZoneShare[], zone: ZoneShare['zone']) =>
  zones.find((each) => each.zone === zone)?.share ?? 0;

/**
 * Whether the wall can be lined on dabs of adhesive: alone, over packing strips first, or better by a frame or plaster;
 * with the shares of its area over the adhesive's most and over the packing's most, and the cautions that go with it.
 * Source: the limits are settings (their origins in defaults.ts); lining without insulation on the inside of an external
 * wall is advised against, and dabs can worsen the sound of a party wall: common practice, no source.
 */
export function judgeFitness(
  zones: readonly ZoneShare[],
  wall: Wall,
  warnings: readonly Warning[],
  settings: LiningSettings,
): Verdict {
  const overPackedShare = shareOf(zones, 'beyond');
  const overMaxShare = shareOf(zones, 'packed') + overPackedShare;
  const isWarned = (code: Warning['code']) => warnings.some((warning) => warning.code === code);
  const cautions: LiningCaution[] = [];
  if (wall.side === 'external') cautions.push('external_wall_uninsulated');
  if (wall.side === 'party') cautions.push('party_wall_sound');
  if (isWarned('board_too_short')) cautions.push('horizontal_joint');
  if (isWarned('bed_may_be_thin')) cautions.push('high_point_unsure');
  let way: LiningWay = overMaxShare > speck ? 'pack_first' : 'direct_bond';
  if (overPackedShare > settings.beyondShareMost || overMaxShare > settings.packedShareMost)
    way = 'frame_or_plaster';
  return { way, overMaxShare, overPackedShare, cautions };
}

/**
 * What the bed itself warns of: more than the adhesive takes, more than packing takes, and a high point so uncertain that
 * the bed there may come out thinner than the minimum by more than setting a screw by hand would hide. (At the high point
 * the bed is the minimum exactly, so it is always thinner with a chance of one half: only the size counts.)
 * `sigmaMm` and `bed`: at the surface's nodes; NaN where there is no wall.
 */
export function warnOfBed(
  zones: readonly ZoneShare[],
  bed: Float64Array,
  sigmaMm: Float64Array,
  minBedMm: number,
  settings: LiningSettings,
): Warning[] {
  const warnings: Warning[] = [];
  const overPackedShare = shareOf(zones, 'beyond');
  const overMaxShare = shareOf(zones, 'packed') + overPackedShare;
  const least = minBedMm - settings.thinAllowanceMm;
  if (bed.some((bedMm, k) => bedMm - sigmaMm[k]! < least))
    warnings.push({ code: 'bed_may_be_thin', subject: 'wall' });
  if (overMaxShare > speck) warnings.push({ code: 'bed_over_max', subject: 'wall' });
  if (overPackedShare > speck) warnings.push({ code: 'bed_over_packed', subject: 'wall' });
  return warnings;
}
