/** A decoded upright picture, RGBA, 8 bits, sRGB, row by row. */
export interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgba: Uint8ClampedArray | Uint8Array;
}
