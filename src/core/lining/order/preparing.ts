import type { WorkCaution, WorkStep } from '../../liningPlan.ts';
import type { Wall } from '../../survey.ts';
import { idsOf, isWarned, makeStep, type WorkGround } from './step.ts';

const sideCautions: Readonly<Record<Wall['side'], readonly WorkCaution[]>> = {
  internal: [],
  external: ['cold_wall'],
  party: ['party_sound'],
};

/**
 * Steps before any setting out: whether to go on at all, what to bring, the wall looked at, cleared, hacked off where that
 * was picked, dubbed out where it is beyond packing, and primed.
 * Source: sound, stable, dry, dust-free; loose plaster, paint, wallpaper and release oil off; absorbent and smooth dense
 * walls primed (gypsum adhesive data sheet and a course on dry lining).
 */
export function listPreparing({ survey, plan, settings }: WorkGround): WorkStep[] {
  const { zones, verdict, hacked, adhesive, cutting, boards, screws } = plan;
  const areaM2 = zones.reduce((total, zone) => total + zone.areaM2, 0);
  const { overMaxShare, overPackedShare } = verdict;
  const hackedM2 = hacked.reduce((total, spot) => total + spot.areaM2, 0);
  const steps: WorkStep[] = [];
  if (verdict.way === 'frame_or_plaster')
    steps.push(makeStep('prepare', 'other_way', { figures: { overMaxShare, overPackedShare } }));
  steps.push(
    makeStep('prepare', 'bring', {
      figures: {
        sheets: cutting.sheets.length,
        boards: boards.length,
        bags: adhesive.bags,
        bagKg: adhesive.bagKg,
        waterL: adhesive.waterL,
        screws: screws.length,
      },
    }),
    makeStep('prepare', 'check_wall', {
      figures: { areaM2, leastC: settings.wallLeastC },
      cautions: ['damp_wall', ...sideCautions[survey.wall.side], 'temperature', 'local_rules'],
    }),
    makeStep('prepare', 'clear_wall', { figures: { areaM2 }, cautions: ['old_coatings', 'bare_steel'] }),
  );
  if (hacked.length > 0)
    steps.push(
      makeStep('prepare', 'hack_off', {
        of: idsOf(hacked),
        figures: {
          spots: hacked.length,
          areaM2: hackedM2,
          deepestMm: Math.max(...hacked.map(({ depthMm }) => depthMm)),
        },
        cautions: ['services', 'stone_dust', 'old_coatings'],
      }),
    );
  if (isWarned(plan, 'bed_over_packed'))
    steps.push(
      makeStep('prepare', 'dub_out', {
        figures: {
          areaM2: zones.find(({ zone }) => zone === 'beyond')?.areaM2 ?? 0,
          packedMaxMm: survey.lining.bed.packedMax,
          coatMm: settings.dubCoatMm,
        },
      }),
    );
  steps.push(makeStep('prime', 'prime', { figures: { areaM2, dryMin: settings.primerDryMin } }));
  return steps;
}
