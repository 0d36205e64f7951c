/** Tones of a drawing board: paper, pencil, an ink wash for depth, and one signal colour for what needs the user. */
export const look = {
  sheet: '#fdfbf5',
  wall: '#faf6ea',
  ruled: '#ddd6c4',
  edge: '#8b8778',
  graphite: '#555a61',
  pencil: '#23262b',
  signal: '#b23a0c',
  signalWash: '#fbe9dd',
  green: '#1f7a3d',
  red: '#9b1b4f',
  /** Ink wash from shallow to deep; lightness falls steadily, so it also reads in grey and to the colour-blind. */
  washShallow: '#f8f3e4',
  washDeep: '#7f97a6',
} as const;

/** Widths of strokes and size of letters, all in the drawing's own unit (px on screen, mm on paper). */
export interface Pen {
  readonly font: number;
  readonly small: number;
  readonly hair: number;
  readonly thin: number;
  readonly line: number;
  readonly heavy: number;
}

/** A set of pens that goes with letters of the given size. @example makePen(12).heavy // 2.2 */
export function makePen(font: number): Pen {
  const unit = font / 12;
  return {
    font,
    small: 10.5 * unit,
    hair: 0.5 * unit,
    thin: 0.9 * unit,
    line: 1.4 * unit,
    heavy: 2.2 * unit,
  };
}
