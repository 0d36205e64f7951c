import type { Wall, WallSpot } from '../../survey.ts';
import type { LiningSettings } from '../defaults.ts';

/** Height (mm) of the ceiling over a spot of the wall: straight between the spots given, level beyond them. */
export function ceilingOver(
  { height, ceiling = [] }: Pick<Wall, 'height' | 'ceiling'>,
  along: number,
): number {
  const first = ceiling[0];
  if (!first) return height;
  const k = ceiling.findIndex((spot) => spot.along >= along);
  if (k < 0) return ceiling[ceiling.length - 1]!.up;
  const to = ceiling[k]!;
  const from = ceiling[k - 1] ?? to;
  const share = to.along > from.along ? (along - from.along) / (to.along - from.along) : 0;
  return from.up + share * (to.up - from.up);
}

/**
 * What makes hidden cables or pipes likely at a spot (mm): the id of a box that lies straight above, below or level with it, `top`
 * within the zone under the top of the wall, `end` beside one of its ends; null where nothing is known. Whatever fills a box has a
 * supply, so every box counts.
 * Source: BS 7671, 522.6.202, as quoted in DEVELOPERS.md, "Fixing".
 */
export function findServices(
  { along, up }: WallSpot,
  wall: Pick<Wall, 'width' | 'height' | 'ceiling' | 'boxes'>,
  { serviceZoneMm, serviceSpareMm }: Pick<LiningSettings, 'serviceZoneMm' | 'serviceSpareMm'>,
): string | null {
  const box = wall.boxes.find(
    (each) =>
      Math.abs(along - each.along - each.width / 2) < each.width / 2 + serviceSpareMm ||
      Math.abs(up - each.up - each.height / 2) < each.height / 2 + serviceSpareMm,
  );
  if (box) return box.id;
  if (up > ceilingOver(wall, along) - serviceZoneMm) return 'top';
  return along < serviceZoneMm || along > wall.width - serviceZoneMm ? 'end' : null;
}
