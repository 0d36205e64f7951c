import type { LiningSettings } from './defaults.ts';

/**
 * Widest spacing (mm) of dab columns behind a board, by the stock board's width and thickness (mm): closer behind thin and behind
 * narrow boards.
 * Source: UK specification clause after BS 8212, whose figures are the settings' defaults.
 * @example dabColumnMm(1200, 9.5, { dabColumnMm: 600, dabColumnNarrowMm: 450, dabColumnThinMm: 400 }) // 400
 */
export function dabColumnMm(
  boardWidthMm: number,
  thicknessMm: number,
  settings: Pick<LiningSettings, 'dabColumnMm' | 'dabColumnNarrowMm' | 'dabColumnThinMm'>,
): number {
  if (boardWidthMm <= 900) return settings.dabColumnNarrowMm;
  return thicknessMm >= 12 ? settings.dabColumnMm : settings.dabColumnThinMm;
}

/**
 * Adhesive (L) in a dab that is pressed to a footprint (mm2) on a bed (mm): a dab of the same size spreads over half as
 * much where the bed is twice as deep.
 * @example dabVolumeL(37500, 10) // 0.375
 */
export function dabVolumeL(footprintMm2: number, bedMm: number): number {
  return (footprintMm2 * bedMm) / 1e6;
}
