import type { WorkStep } from '../../liningPlan.ts';
import { measureJoints } from './joints.ts';
import { idsOf, makeStep, type WorkGround } from './step.ts';

/** The gap under the boards (mm): as set, or wider where the stock is a little short of the wall. */
export function findFloorGap({ survey, plan, settings }: WorkGround): number {
  const isWide = plan.warnings.some(({ code }) => code === 'floor_gap_wide');
  return isWide && !survey.wall.floor
    ? Math.min(...plan.boards.map(({ up }) => up).filter((up) => up >= settings.floorGapMm))
    : settings.floorGapMm;
}

/**
 * Steps from setting the laser up again to the last gauge screw: the plane, the joints, the services behind the face, the
 * screws themselves and their check.
 */
export function listSettingOut(ground: WorkGround): WorkStep[] {
  const { survey, plan } = ground;
  const { bedPlane, boards, screws } = plan;
  const { wall, lining } = survey;
  const flagged = screws.filter(({ services }) => services !== null);
  const steps: WorkStep[] = [
    makeStep('set_out', 'set_laser', {
      figures: {
        leftMm: -bedPlane.p,
        rightMm: -(bedPlane.p + bedPlane.q * wall.width),
        boardMm: lining.board.thickness,
        leanMmPerM: 1000 * bedPlane.r,
      },
      cautions: ['laser_light'],
    }),
    makeStep('set_out', 'mark_out', {
      of: idsOf(boards),
      figures: {
        boards: boards.length,
        joints: measureJoints(boards).joints,
        floorGapMm: findFloorGap(ground),
      },
    }),
    makeStep('set_out', 'trace_services', {
      of: [...idsOf(wall.boxes), ...idsOf(flagged)],
      figures: { boxes: wall.boxes.length, screws: flagged.length },
      cautions: wall.boxes.length > 0 ? ['services', 'live_boxes'] : ['services'],
    }),
  ];
  if (screws.length > 0) {
    const lengths = screws.map(({ projection }) => projection);
    steps.push(
      makeStep('screws', 'set_screws', {
        of: idsOf(screws),
        figures: {
          screws: screws.length,
          leastMm: Math.min(...lengths),
          mostMm: Math.max(...lengths),
          services: flagged.length,
          drillMm: ground.settings.plugDiameterMm,
          plugMm: ground.settings.plugLengthMm,
        },
        cautions: ['services', 'stone_dust'],
      }),
      makeStep('screws', 'check_screws', {
        figures: { screws: screws.length, toleranceMm: ground.settings.screwToleranceMm },
      }),
    );
  }
  return steps;
}
