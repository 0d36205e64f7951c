import type { Warning } from '../refusal.ts';
import type { VerdictReason } from '../liningPlan.ts';
import type { LiningCaution, LiningPlan, LiningWay, Verdict, ZoneShare } from '../results.ts';
import type { Survey } from '../survey.ts';
import { compareWays } from './comparison.ts';
import type { LiningSettings } from './defaults.ts';

/** A smaller share of the wall than this is a speck, no reason for packing: 0.1 %, a hand's breadth square on 10 m2. */
const speck = 0.001;

/** A share of the wall that is likely over the limit though the plan says otherwise is told of from 1 % on. */
const likelyMore = 0.01;

/** From the plainest way to the one that needs most. */
const ways: readonly LiningWay[] = ['direct_bond', 'pack_first', 'frame_or_plaster'];

const shareOf = (zones: readonly ZoneShare[], zone: ZoneShare['zone']) =>
  zones.find((each) => each.zone === zone)?.share ?? 0;

function chooseWay(
  { overMaxShare, overPackedShare }: Pick<Verdict, 'overMaxShare' | 'overPackedShare'>,
  settings: LiningSettings,
): LiningWay {
  if (overPackedShare > settings.beyondShareMost || overMaxShare > settings.packedShareMost)
    return 'frame_or_plaster';
  return overMaxShare > speck ? 'pack_first' : 'direct_bond';
}

/**
 * Why the wall suits a way of lining: what is over the limits, what is likely to be, and the fewest spots to hack off after which
 * another way would do.
 */
function giveReasons(
  { zones, maxBedMm, hackOptions }: Pick<LiningPlan, 'zones' | 'maxBedMm' | 'hackOptions'>,
  way: LiningWay,
  settings: LiningSettings,
): VerdictReason[] {
  const areaOf = (zone: ZoneShare['zone'], of: 'areaM2' | 'expectedM2') =>
    zones.find((each) => each.zone === zone)?.[of] ?? 0;
  const overPackedShare = shareOf(zones, 'beyond');
  const overMaxShare = shareOf(zones, 'packed') + overPackedShare;
  const over = (of: 'areaM2' | 'expectedM2') => areaOf('packed', of) + areaOf('beyond', of);
  const reasons: VerdictReason[] = [];
  if (overPackedShare > speck)
    reasons.push({
      code: 'beyond_packing',
      share: overPackedShare,
      areaM2: areaOf('beyond', 'areaM2'),
      maxBedMm,
    });
  if (overMaxShare > speck)
    reasons.push({ code: 'over_max', share: overMaxShare, areaM2: over('areaM2'), maxBedMm });
  else reasons.push({ code: 'within_limits', maxBedMm });
  const wholeM2 = zones.reduce((sum, { areaM2 }) => sum + areaM2, 0);
  if (over('expectedM2') > over('areaM2') + likelyMore * wholeM2)
    reasons.push({ code: 'likely_over_max', areaM2: over('areaM2'), expectedM2: over('expectedM2') });
  const better = hackOptions.find(
    (option) => option.spots.length > 0 && ways.indexOf(chooseWay(option, settings)) < ways.indexOf(way),
  );
  if (better)
    reasons.push({
      code: 'hacking_off',
      spots: better.spots.length,
      overMaxShare: better.overMaxShare,
      overPackedShare: better.overPackedShare,
    });
  return reasons;
}

/**
 * Whether the wall can be lined on dabs of adhesive: alone, over packing strips first, or better by a frame or plaster;
 * with the shares of its area over the adhesive's most and over the packing's most, why, the cautions that go with it, and the three
 * ways side by side.
 * Source: the limits are settings (their origins in defaults.ts); lining without insulation on the inside of an external
 * wall is advised against, and dabs can worsen the sound of a party wall: common practice, no source.
 */
export function judgeFitness(
  plan: Pick<LiningPlan, 'zones' | 'meanBedMm' | 'maxBedMm' | 'hackOptions'>,
  { wall, lining }: Pick<Survey, 'wall' | 'lining'>,
  warnings: readonly Warning[],
  settings: LiningSettings,
): Verdict {
  const overPackedShare = shareOf(plan.zones, 'beyond');
  const overMaxShare = shareOf(plan.zones, 'packed') + overPackedShare;
  const isWarned = (code: Warning['code']) => warnings.some((warning) => warning.code === code);
  const cautions: LiningCaution[] = [];
  if (wall.side === 'external') cautions.push('external_wall_uninsulated');
  if (wall.side === 'party') cautions.push('party_wall_sound');
  if (isWarned('board_too_short')) cautions.push('horizontal_joint');
  if (isWarned('bed_may_be_thin')) cautions.push('high_point_unsure');
  const way = chooseWay({ overMaxShare, overPackedShare }, settings);
  return {
    way,
    overMaxShare,
    overPackedShare,
    cautions,
    reasons: giveReasons(plan, way, settings),
    comparison: compareWays(plan.meanBedMm, lining, settings),
  };
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
