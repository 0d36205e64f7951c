import { HAND_SIGMA_PX } from '../../app/editPoints.ts';
import type { LinePoint } from '../../core/survey.ts';

/** How far a found point is to be trusted across the line. */
export type Trust = 'sure' | 'fair' | 'poor';

/**
 * Sigma (px) up to which a point is `sure`: a step of the arrow keys moves it by as much, so no hand betters it. Beyond the sigma
 * of a hand (`HAND_SIGMA_PX`) it is `poor`: there a hand would set it better than it was found.
 */
export const SURE_SIGMA_PX = 0.25;

/**
 * How far a found point is to be trusted, by its sigma across the line.
 * @example trustOf({ sigma: 0.2 }) // 'sure'
 * @example trustOf({ sigma: 0.5 }) // 'fair'
 */
export function trustOf({ sigma }: Pick<LinePoint, 'sigma'>): Trust {
  if (sigma <= SURE_SIGMA_PX) return 'sure';
  return sigma <= HAND_SIGMA_PX ? 'fair' : 'poor';
}
