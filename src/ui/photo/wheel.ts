import type { Spot } from './view.ts';

/** What a turn of the wheel asks for: nearer by a factor, or the picture moved by css px. */
export type WheelTurn =
  { readonly kind: 'zoom'; readonly factor: number } | { readonly kind: 'pan'; readonly by: Spot };

/** What of a WheelEvent is read. `wheelDeltaY` is older than the standard; Firefox and some others do not tell it. */
export type WheelFacts = Pick<WheelEvent, 'deltaX' | 'deltaY' | 'deltaMode' | 'ctrlKey' | 'shiftKey'> & {
  readonly wheelDeltaY?: number;
};

/** A line and a page of a wheel (css px). */
const MODE_PX = [1, 16, 400];
/** One notch of a wheel, as `wheelDeltaY` counts it. */
const NOTCH = 120;
/** Without `wheelDeltaY`, a step of whole px as long as this is a notch: from experience, no source. */
const NOTCH_PX = 50;
/** A wheel turned by so much (css px) brings the picture nearer by e. */
const E_FOLD_PX = 500;
/** Two fingers spread on a trackpad come as small steps with Ctrl held: so many times those of a wheel. */
const PINCH_GAIN = 6;

/**
 * Tells a wheel (zooms) from two fingers on a trackpad (move the picture; spread, they zoom). Shift with a wheel moves it sideways.
 * @example readWheel({ deltaX: 0, deltaY: 3, deltaMode: 0, ctrlKey: false, shiftKey: false }) // { kind: 'pan', by: { x: 0, y: -3 } }
 */
export function readWheel(turn: WheelFacts): WheelTurn {
  const px = MODE_PX[turn.deltaMode] ?? 1;
  const [across, down] = [turn.deltaX * px, turn.deltaY * px];
  const zoom = (by: number): WheelTurn => ({ kind: 'zoom', factor: Math.exp(-by / E_FOLD_PX) });
  if (turn.ctrlKey) return zoom(down * PINCH_GAIN);
  if (turn.shiftKey) return { kind: 'pan', by: { x: 0 - (down || across), y: 0 } };
  return isTrackpad(turn) ? { kind: 'pan', by: { x: 0 - across, y: 0 - down } } : zoom(down);
}

function isTrackpad({ deltaX, deltaY, deltaMode, wheelDeltaY }: WheelFacts): boolean {
  if (deltaMode !== 0) return false;
  if (deltaX !== 0) return true;
  if (wheelDeltaY) return wheelDeltaY % NOTCH !== 0;
  return Math.abs(deltaY) < NOTCH_PX || !Number.isInteger(deltaY);
}
