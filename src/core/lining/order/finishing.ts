import type { WorkCaution, WorkStep } from '../../liningPlan.ts';
import { measureJoints } from './joints.ts';
import { findFloorGap } from './settingOut.ts';
import { idsOf, makeStep, type WorkGround } from './step.ts';
import { measureWallEdge } from './wallEdge.ts';

/**
 * Steps once the boards stand: waiting, gaps sealed, fixings through the boards where asked, joints filled, cleaning up.
 * Source: unbroken sealing at the edges as air and fire barrier: UK specification; a rated wall needs its tested system.
 */
export function listFinishing(ground: WorkGround): WorkStep[] {
  const { survey, plan, settings } = ground;
  const { wall } = survey;
  const { boards, batches } = plan;
  const { joints, lengthMm } = measureJoints(boards);
  const perBoard = settings.secondaryPerBoard;
  const seal: WorkCaution[] = ['fire_rating', 'local_rules'];
  const steps: WorkStep[] = [
    makeStep('wait', 'let_go', { figures: { minutes: settings.letGoMin } }),
    makeStep('wait', 'take_packers', { of: idsOf(boards), figures: { minutes: settings.packersOutMin } }),
    makeStep('wait', 'wait_set', {
      figures: { minutes: settings.jointsMin, leastC: settings.wallLeastC },
      cautions: ['temperature'],
    }),
    makeStep('seal', 'seal_gaps', {
      of: idsOf(wall.boxes),
      figures: {
        floorGapMm: findFloorGap(ground),
        ceilingGapMm: settings.ceilingGapMm,
        lengthMm: measureWallEdge(wall),
        boxes: wall.boxes.length,
      },
      cautions: wall.side === 'party' ? ['party_sound', ...seal] : seal,
    }),
  ];
  if (perBoard > 0)
    steps.push(
      makeStep('secondary', 'secondary_fix', {
        of: idsOf(boards),
        figures: { fixings: perBoard * boards.length, perBoard, boards: boards.length },
        cautions: ['services', 'stone_dust'],
      }),
    );
  steps.push(
    makeStep('joints', 'fill_joints', {
      of: idsOf(boards),
      figures: { joints, lengthMm, leastC: settings.jointLeastC },
      cautions: ['temperature'],
    }),
    makeStep('clean', 'clean_up', {
      figures: { mixes: batches.length, wasteShare: plan.cutting.wasteShare },
      cautions: ['heavy_loads'],
    }),
  );
  return steps;
}
