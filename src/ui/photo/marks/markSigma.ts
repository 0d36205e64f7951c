import { MARK_SIGMA_PX } from '../../../app/editMarks.ts';

/**
 * Sigma of a mark (px) set while the picture is shown at `scale` css px per px. A press is no better than half a css px; a graduation is
 * known along the tape, not across it, which halves that on the mean.
 * @example markSigma(0.25, false) // 2
 * @example markSigma(0.25, true) // 1
 * @example markSigma(8, false) // 1
 */
export function markSigma(scale: number, snapped: boolean): number {
  const sigma = Math.max(MARK_SIGMA_PX, (snapped ? 0.25 : 0.5) / scale);
  return Math.round(10 * sigma) / 10;
}
