import type { Gap, LaserColour, LineAxis, LinePoint } from '../survey.ts';

/** A laser line seen in a picture. */
export interface FoundLine {
  readonly axis: LineAxis;
  readonly colour: LaserColour;
  /** 0..1: how sure it is that this is a laser line. */
  readonly confidence: number;
  /** Full width at half maximum, px. */
  readonly widthPx: number;
  /** One point per picture column (level) or row (plumb) where the line is, in that order; none in a gap. */
  readonly points: readonly LinePoint[];
  /** The stretches between points where the line is not to be seen. */
  readonly gaps: readonly Gap[];
}
