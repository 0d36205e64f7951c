/** A lamp's or the sun's shine on the wall: a round spot of white light of this strength in its middle (mm, sigma). */
export interface Glare {
  readonly along: number;
  readonly up: number;
  readonly radiusMm: number;
  readonly light: number;
}

/** Light that all glares add at a place of the wall. @example glareAt([], 5, 5) // 0 */
export function glareAt(glares: readonly Glare[], along: number, up: number): number {
  let light = 0;
  for (const glare of glares) {
    const square = (along - glare.along) ** 2 + (up - glare.up) ** 2;
    light += glare.light * Math.exp((-0.5 * square) / glare.radiusMm ** 2);
  }
  return light;
}
