import type { WallStep } from '../results.ts';
import type { WallRect } from '../survey.ts';

/** An edge over which the wall's face steps. */
export type Setback = WallStep;

/** Points so near to an edge may lie on either side (mm). */
const EDGE_MM = 6;
/** An edge is as wide as this to the grid (mm), whose nodes lie at whole millimetres and it between them. */
const SLIT_MM = 0.8;

/** How much further out the face lies at a place (mm) than it would without its setbacks. */
export function stepOut(setbacks: readonly Setback[], alongMm: number, upMm: number): number {
  let out = 0;
  for (const { axis, atMm, fromMm, toMm, outMm } of setbacks) {
    const [across, along] = axis === 'plumb' ? [alongMm, upMm] : [upMm, alongMm];
    if (across > atMm && along >= fromMm && along <= toMm) out += outMm;
  }
  return out;
}

/** An edge as what is no wall: no width to speak of, so that nothing is tied across it. */
export function asOpening({ axis, atMm, fromMm, toMm }: Setback): WallRect {
  const half = SLIT_MM / 2;
  return axis === 'plumb'
    ? { along: atMm - half, up: fromMm, width: 2 * half, height: toMm - fromMm }
    : { along: fromMm, up: atMm - half, width: toMm - fromMm, height: 2 * half };
}

/** Whether a place (mm) lies so near to an edge that it may be on either side. */
export function liesAtEdge(setbacks: readonly Setback[], alongMm: number, upMm: number): boolean {
  return setbacks.some(({ axis, atMm, fromMm, toMm }) => {
    const [across, along] = axis === 'plumb' ? [alongMm, upMm] : [upMm, alongMm];
    return Math.abs(across - atMm) < EDGE_MM && along >= fromMm && along <= toMm;
  });
}
