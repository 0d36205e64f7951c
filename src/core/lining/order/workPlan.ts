import type { WorkStep } from '../../liningPlan.ts';
import { listFinishing } from './finishing.ts';
import { listDryFit, listFixing, listPacking } from './fixing.ts';
import { listPreparing } from './preparing.ts';
import { listSettingOut } from './settingOut.ts';
import type { WorkGround } from './step.ts';

/**
 * The whole job as one list in the order of the work, each step with its figures (mm, m2, kg, L, min, degC, counts) and the
 * cautions that matter there; the sentences are the page's. Source: DEVELOPERS.md, "From surface to lining".
 */
export function planWork(ground: WorkGround): WorkStep[] {
  return [
    ...listPreparing(ground),
    ...listSettingOut(ground),
    ...listPacking(ground),
    ...listDryFit(ground),
    ...listFixing(ground),
    ...listFinishing(ground),
  ];
}
