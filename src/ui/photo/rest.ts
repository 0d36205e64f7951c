import type { Size, View } from './view.ts';

/** How long the picture must lie still before it is painted anew for where it lies (ms). */
const REST_MS = 120;
/** What was painted is stretched at most so far while the picture moves, and leaves at most this share of the frame bare. */
const MOST_STRETCH = 1.5;
const LEAST_STRETCH = 0.7;
const MOST_BARE = 0.2;

/** What takes things painted for one view to where another has them: scale, then shift (css px). */
export interface Carry {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

/** How things painted for the view `from` are carried to the view `to`. @example carryView({ scale: 2, x: 10, y: 0 }, { scale: 4, x: 0, y: 5 }) // { scale: 2, x: -20, y: 5 } */
export function carryView(from: View, to: View): Carry {
  const scale = to.scale / from.scale;
  return { scale, x: to.x - from.x * scale, y: to.y - from.y * scale };
}

/** A carry as CSS writes it, about the upper left corner. */
export function carryStyle({ scale, x, y }: Carry): string {
  return `matrix(${scale}, 0, 0, ${scale}, ${x}, ${y})`;
}

/** Whether what was painted for the view `from` no longer does while the picture moves to `to`. */
export function isCarriedFar(from: View, to: View, frame: Size): boolean {
  const { scale, x, y } = carryView(from, to);
  if (scale > MOST_STRETCH || scale < LEAST_STRETCH) return true;
  const bare = (at: number, room: number) => Math.max(at, room - at - room * scale) > MOST_BARE * room;
  return bare(x, frame.width) || bare(y, frame.height);
}

/** Tells when something that moves has lain still for `REST_MS`. Not a timer for each move: to set and clear one takes longer than a move. */
export class Stillness {
  private movedAt = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly onStill: () => void) {}

  move(): void {
    this.movedAt = performance.now();
    this.timer ??= setTimeout(this.look, REST_MS);
  }

  stop(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
  }

  private readonly look = (): void => {
    const waitMs = this.movedAt + REST_MS - performance.now();
    this.timer = waitMs > 0 ? setTimeout(this.look, waitMs) : undefined;
    if (!this.timer) this.onStill();
  };
}
