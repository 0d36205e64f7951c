import { settingsOf } from '../../../src/core/lining/defaults.ts';
import { keepLinedNodes } from '../../../src/core/lining/linedNodes.ts';
import { standPlane } from '../../../src/core/lining/plane/planPlane.ts';
import type { BedPlane, Surface } from '../../../src/core/results.ts';
import type { Survey } from '../../../src/core/survey.ts';
import { solver } from '../../solver.ts';

/** The bed plane of a solved survey, as its plan has it, without the rest of the plan. */
export function findBedPlane({ wall, lining }: Survey, surface: Surface): BedPlane {
  return standPlane(keepLinedNodes(surface, wall), wall, lining, settingsOf(lining), solver).plane;
}
