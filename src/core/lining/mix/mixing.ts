import type { Adhesive, Board } from '../../results.ts';
import type { Lining } from '../../survey.ts';
import { planAdhesive, type Laid } from '../adhesive.ts';
import type { LiningSettings } from '../defaults.ts';
import type { NodeGrid } from '../nodeGrid.ts';
import { planBatches, type BatchPlan } from './batches.ts';
import { listMixItems } from './mixItems.ts';

/** The wall's adhesive and how it is mixed; the bags also hold a trial mix that is thrown away. `bed` without NaN. */
export function planMixing(
  boards: readonly Board[],
  bed: NodeGrid,
  laid: Laid,
  lining: Lining,
  settings: LiningSettings,
): BatchPlan & { readonly adhesive: Adhesive } {
  const adhesive = planAdhesive(boards, bed, laid, settings);
  const mixed = planBatches(listMixItems(boards, laid, adhesive, lining, settings), settings);
  const powderKg = mixed.batches.reduce((total, batch) => total + batch.powderKg, 0);
  const bags = Math.ceil(powderKg / settings.bagKg - 1e-9);
  return { ...mixed, adhesive: { ...adhesive, bags } };
}
