import { runAxis } from '../../app/editPhoto.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import { movedPush } from './brush.ts';
import type { Chart } from './chart.svelte.ts';
import type { GestureTarget, Hold } from './gestures.ts';
import { stepAlong } from './keys.ts';
import { REACH_PX } from './reach.ts';
import type { Sight } from './sight.svelte.ts';
import { commitLive } from './tools.ts';
import type { Spot } from './view.ts';
import type { Live, Work } from './work.svelte.ts';

/** One press of an arrow key moves the chosen point by so much (mm of wall); with Shift by `FAST` times that. */
export const NUDGE_MM = 0.1;
const FAST = 10;

/** What fingers on the chart do: take the chosen point in or out, or push the line there; else the picture is shown the place. */
export class ChartTools implements GestureTarget {
  private grip: { readonly spot: Spot; readonly at: ImagePoint; readonly kind: 'point' | 'push' } | null =
    null;

  constructor(
    private readonly work: Work,
    private readonly sight: Sight,
    private readonly chart: Chart,
  ) {}

  hold(at: Spot): Hold {
    return this.gripAt(at) ? 'drag' : 'now';
  }

  begin(at: Spot): void {
    this.grip = this.gripAt(at);
    if (!this.grip) return this.show(at);
    this.work.guide = null;
    if (this.grip.kind === 'push') this.work.live = { kind: 'push', from: this.grip.at, at: this.grip.at };
    else this.move(at);
  }

  move(at: Spot): void {
    const { grip } = this;
    if (!grip) return this.show(at);
    const live = shiftLive(this.work, this.sight, grip.kind, grip.at, grip.at, this.mmFrom(at));
    if (live) this.work.live = live;
  }

  end(at: Spot): void {
    const { work, grip } = this;
    this.move(at);
    const { live } = work;
    this.cancel();
    if (!grip) return work.choose('point', this.chart.pointAt(at));
    if (live && (grip.kind === 'push' || work.chosen)) commitLive(work, live);
  }

  cancel(): void {
    if (this.grip) this.work.live = null;
    this.grip = null;
    this.work.guide = null;
  }

  tap(): void {
    // what is pressed is chosen already
  }

  pan(): void {
    // a finger beside the profile shows places, and moves nothing
  }

  pinch(): void {
    // the picture is zoomed on the picture
  }

  /** Shows on the picture the place of the line that a spot of the chart stands for. */
  show(at: Spot): void {
    this.work.guide = this.work.line?.points[this.chart.pointAt(at)] ?? null;
  }

  private mmFrom(at: Spot): number {
    const { spot } = this.grip!;
    return this.chart.mmOf({ x: at.x - spot.x, y: at.y - spot.y });
  }

  /** What a press takes hold of: the chosen point, or with the brush the point of the line there. */
  private gripAt(at: Spot): ChartTools['grip'] {
    const { work, chart } = this;
    if (work.busy || !work.line) return null;
    const isNear = (point: ImagePoint | null | undefined): point is ImagePoint => {
      const spot = point && chart.spotOf(point);
      return !!spot && Math.hypot(spot.x - at.x, spot.y - at.y) <= REACH_PX;
    };
    if (work.tool === 'push') {
      const point = work.line.points[chart.pointAt(at)];
      return isNear(point) ? { spot: at, at: point, kind: 'push' } : null;
    }
    const chosen = work.tool === 'pick' && work.chosen?.kind === 'point' ? work.chosenAt : null;
    return isNear(chosen) ? { spot: at, at: chosen, kind: 'point' } : null;
  }
}

/** What moving the point at `at` in or out along the sheet of light by mm would do, as one of its line or with its stretch. */
function shiftLive(
  work: Work,
  sight: Sight,
  kind: 'point' | 'push',
  from: ImagePoint,
  at: ImagePoint,
  byMm: number,
): Live | null {
  const { line, chosen } = work;
  const place = line && sight.placeOf(line, at);
  const to = place && sight.imageOf(line, { s: place.s, out: place.out + byMm });
  if (!to) return null;
  if (kind === 'push') return movedPush(work, { kind, from, at }, to);
  return chosen ? { kind, index: chosen.index, at: to } : null;
}

/** Moves the chosen point, or with the brush its stretch, by mm of wall before the key is let go; along the line goes to the next point. */
export function pressChartKey(work: Work, sight: Sight, key: string, fast: boolean): boolean {
  const level = runAxis(work.line?.sheet.axis ?? 'level') === 'u';
  const steps: Readonly<Record<string, readonly [number, number]>> = {
    ArrowLeft: level ? [-1, 0] : [0, -1],
    ArrowRight: level ? [1, 0] : [0, 1],
    ArrowUp: level ? [0, 1] : [-1, 0],
    ArrowDown: level ? [0, -1] : [1, 0],
  };
  const step = steps[key];
  if (!step) return false;
  const [along, out] = step;
  if (work.live) {
    if (along !== 0) commitLive(work, work.live);
  }
  if (along !== 0 || work.chosen?.kind !== 'point') {
    stepAlong(work, along < 0 ? -1 : 1);
    return true;
  }
  if (work.busy || !work.chosenAt || (work.tool !== 'push' && work.tool !== 'pick')) return true;
  const kind = work.tool === 'push' ? 'push' : 'point';
  const held = work.live?.kind === 'push' ? work.live : null;
  const from = held?.from ?? work.chosenAt;
  const byMm = out * NUDGE_MM * (fast ? FAST : 1);
  work.live = shiftLive(work, sight, kind, from, held?.at ?? work.chosenAt, byMm);
  return true;
}
