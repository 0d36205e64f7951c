import type { Spot } from './view.ts';

/** What a press takes hold of: `now` begins at once (placing), `drag` begins when the pointer moves, null pans. */
export type Hold = 'now' | 'drag' | null;

/** What the gestures of one picture do. A gesture that begins ends by exactly one of `end` and `cancel`. */
export interface GestureTarget {
  hold(at: Spot): Hold;
  begin(at: Spot): void;
  move(at: Spot): void;
  end(at: Spot): void;
  cancel(): void;
  tap(at: Spot): void;
  /** A second tap at the same place soon after a first one, which was told as `tap`. */
  tapTwice?(at: Spot): void;
  pan(by: Spot): void;
  /** Two fingers: nearer by `factor`, what was between them at `from` goes to `to`. */
  pinch(from: Spot, to: Spot, factor: number): void;
}

/** A pointer that moved less than this since it went down is a tap (css px). */
const TAP_PX = { mouse: 3, other: 8 } as const;

/** A second tap within this time and distance of the first makes two (ms, css px): common practice, no source. */
const TWICE_MS = 350;
const TWICE_PX = 24;

/** How a pointer went down, besides its kind: whether it only moves the picture whatever tool is taken, and when (ms). */
export interface Press {
  readonly moves?: boolean;
  readonly timeMs?: number;
}

type State = 'idle' | 'pressed' | 'holding' | 'panning' | 'pinching' | 'spent';

/**
 * Pointers into gestures: one finger taps, drags or pans; a second one ends whatever the first was doing, without change,
 * and pinches; after a pinch nothing begins until every finger is up. A lost pointer ends its drag without change.
 */
export class Gestures {
  private readonly pointers = new Map<number, Spot>();
  private state: State = 'idle';
  private start: Spot = { x: 0, y: 0 };
  private last: Spot = { x: 0, y: 0 };
  private press: Press = {};
  private tapPx: number = TAP_PX.other;
  private lastTap: { readonly at: Spot; readonly timeMs: number } | null = null;

  constructor(private readonly target: GestureTarget) {}

  down(id: number, at: Spot, kind: string, press: Press = {}): void {
    // a pointer that goes down twice was lost in between
    this.lose(id);
    this.pointers.set(id, at);
    if (this.pointers.size > 1) return this.startPinch();
    this.start = at;
    this.last = at;
    this.press = press;
    this.tapPx = kind === 'mouse' ? TAP_PX.mouse : TAP_PX.other;
    this.state = 'pressed';
    if (press.moves || this.target.hold(at) !== 'now') return;
    this.state = 'holding';
    this.lastTap = null;
    this.target.begin(at);
  }

  move(id: number, at: Spot): void {
    if (!this.pointers.has(id)) return;
    if (this.state === 'pinching') return this.movePinch(id, at);
    this.pointers.set(id, at);
    if (this.state === 'pressed' && apartPx(at, this.start) >= this.tapPx) {
      const held = !this.press.moves && this.target.hold(this.start) === 'drag';
      this.state = held ? 'holding' : 'panning';
      if (this.state === 'holding') this.target.begin(this.start);
    }
    if (this.state === 'holding') this.target.move(at);
    if (this.state === 'panning') this.target.pan({ x: at.x - this.last.x, y: at.y - this.last.y });
    this.last = at;
  }

  up(id: number, at: Spot): void {
    if (!this.pointers.delete(id)) return;
    const { state } = this;
    this.rest();
    if (state === 'pressed' && !this.press.moves) this.tap(at);
    if (state === 'holding') this.target.end(at);
  }

  /** The pointer was taken away: pointercancel or lostpointercapture. */
  lose(id: number): void {
    if (!this.pointers.delete(id)) return;
    const held = this.state === 'holding';
    this.rest();
    if (held) this.target.cancel();
  }

  /** Gives up a drag that is going on, by key or because its object is gone; false when there is none. */
  giveUp(): boolean {
    if (this.state !== 'holding') return false;
    this.state = 'spent';
    this.target.cancel();
    return true;
  }

  private tap(at: Spot): void {
    const { lastTap } = this;
    const { timeMs = -Infinity } = this.press;
    const twice =
      this.target.tapTwice &&
      lastTap &&
      timeMs - lastTap.timeMs <= TWICE_MS &&
      apartPx(at, lastTap.at) <= TWICE_PX;
    this.lastTap = twice ? null : { at, timeMs };
    if (twice) this.target.tapTwice?.(at);
    else this.target.tap(at);
  }

  private rest(): void {
    this.state = this.pointers.size > 0 ? 'spent' : 'idle';
  }

  private startPinch(): void {
    const held = this.state === 'holding';
    this.lastTap = null;
    this.state = this.pointers.size === 2 ? 'pinching' : 'spent';
    if (held) this.target.cancel();
  }

  private movePinch(id: number, at: Spot): void {
    const before = this.pinchOf();
    this.pointers.set(id, at);
    const after = this.pinchOf();
    this.target.pinch(before.middle, after.middle, after.spread / before.spread);
  }

  private pinchOf(): { middle: Spot; spread: number } {
    const [one, other] = [...this.pointers.values()] as [Spot, Spot];
    const middle = { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2 };
    return { middle, spread: Math.max(1, apartPx(one, other)) };
  }
}

function apartPx(one: Spot, other: Spot): number {
  return Math.hypot(one.x - other.x, one.y - other.y);
}
