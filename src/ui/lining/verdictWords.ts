import type { VerdictReason, WayFigures } from '../../core/liningPlan.ts';
import { formatLength, type Units } from '../units.ts';

const percent = (share: number) => (share > 0 && share < 0.01 ? 'under 1 %' : `${Math.round(100 * share)} %`);
const area = (areaM2: number) => `${areaM2.toFixed(areaM2 < 1 ? 2 : 1)} m²`;

/** Why the wall suits a way of lining, one sentence for each reason. */
export function sayReason(
  reason: VerdictReason,
  bed: { readonly max: number; readonly packedMax: number },
  units: Units,
): string {
  switch (reason.code) {
    case 'within_limits':
      return `The bed is ${formatLength(reason.maxBedMm, units)} at its deepest, within the ${formatLength(bed.max, units)} that adhesive alone may be.`;
    case 'over_max':
      return `${percent(reason.share)} of the wall (${area(reason.areaM2)}) is deeper than the ${formatLength(bed.max, units)} that adhesive alone may be, ${formatLength(reason.maxBedMm, units)} at most.`;
    case 'beyond_packing':
      return `${percent(reason.share)} of the wall (${area(reason.areaM2)}) is deeper than the ${formatLength(bed.packedMax, units)} that packing can make up, ${formatLength(reason.maxBedMm, units)} at most.`;
    case 'likely_over_max':
      return `As well as the wall is known, ${area(reason.expectedM2)} of it is to be expected over ${formatLength(bed.max, units)}, not ${area(reason.areaM2)}: have strips of board at hand.`;
    case 'hacking_off':
      return `Hacking off ${reason.spots === 1 ? 'one high spot' : `${reason.spots} high spots`} would leave ${percent(reason.overMaxShare)} of it too deep for adhesive alone${reason.overPackedShare > 0 ? `, and ${percent(reason.overPackedShare)} too deep for packing` : ''}.`;
  }
}

/** The ways of making this wall flat, as they are set side by side. */
export const wayNames: Readonly<Record<WayFigures['way'], string>> = {
  bonded: 'Boards on adhesive',
  frame: 'Boards on a frame',
  plaster: 'Plaster',
};
