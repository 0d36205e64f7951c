import type { Gap, LaserColour, LineAxis, LinePoint } from '../survey.ts';

/**
 * Why a point is suspect: two peaks, hardly brighter than the wall, away from both neighbours, much wider
 * than the line.
 */
export type SuspectReason = 'two_peaks' | 'low_contrast' | 'off_neighbours' | 'wide';

/** A laser line seen in a picture. */
export interface FoundLine {
  readonly axis: LineAxis;
  readonly colour: LaserColour;
  /** 0..1: how sure it is that this is a laser line. */
  readonly confidence: number;
  /** One point per picture column (level) or row (plumb) where the line is, in that order; none in a gap. */
  readonly points: readonly LinePoint[];
  /** Why points (by index) are suspect. */
  readonly reasons: Readonly<Record<number, SuspectReason>>;
  /** The stretches between points where the line is not to be seen. */
  readonly gaps: readonly Gap[];
}
