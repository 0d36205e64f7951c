import type { ImagePoint } from '../../core/camera/frames.ts';
import type { GestureTarget, Hold } from '../photo/gestures.ts';
import {
  clampPoint,
  clampView,
  fitView,
  pointOfSpot,
  revealPoint,
  shiftView,
  zoomView,
  type Size,
  type Spot,
  type View,
} from '../photo/view.ts';

/** How near to a string a fingertip lands (css px). */
const TAP_PX = 9;
/** The same in the picture, where it is shown very small or very large (px). */
const LEAST_TAP_PX = 3;
const MOST_TAP_PX = 60;
/** One press of an arrow key (css px), and with Shift. */
const STEP_PX = 12;
const FINE_PX = 1;

/** A picture on which the two ends of straight things are tapped: how it lies, and the first end while the second is awaited. */
export class Tapping implements GestureTarget {
  frame = $state.raw<Size>({ width: 0, height: 0 });
  picture = $state.raw<Size>({ width: 1, height: 1 });
  view = $state.raw<View>({ scale: 1, x: 0, y: 0 });
  first = $state.raw<ImagePoint | null>(null);
  /** Where the keys are. */
  cursor = $state.raw<ImagePoint | null>(null);

  constructor(private readonly onEdge: (from: ImagePoint, to: ImagePoint, tapPx: number) => void) {}

  /** Another picture (px), or another room for it (css px): it is shown whole. */
  lay(picture: Size, frame: Size): void {
    const same = picture.width === this.picture.width && picture.height === this.picture.height;
    const whole = !same || this.view.scale <= fitView(this.picture, this.frame).scale * 1.001;
    if (!same) this.first = this.cursor = null;
    this.picture = picture;
    this.frame = frame;
    this.view = whole ? fitView(picture, frame) : clampView(this.view, picture, frame);
  }

  zoom(factor: number, at: Spot = { x: this.frame.width / 2, y: this.frame.height / 2 }): void {
    this.view = zoomView(this.view, at, factor, this.picture, this.frame);
  }

  showWhole(): void {
    this.view = fitView(this.picture, this.frame);
  }

  hold(): Hold {
    return null;
  }
  begin(): void {
    // nothing is held: a finger taps, or moves the picture
  }
  move(): void {
    // as above
  }
  end(): void {
    // as above
  }
  cancel(): void {
    // as above
  }

  tap(at: Spot): void {
    this.setEnd(pointOfSpot(this.view, at));
  }

  pan(by: Spot): void {
    this.view = shiftView(this.view, by, this.picture, this.frame);
  }

  pinch(from: Spot, to: Spot, factor: number): void {
    this.view = zoomView(this.view, from, factor, this.picture, this.frame, to);
  }

  /** Sets the first end, or with the second one hands the edge on. */
  setEnd(at: ImagePoint): void {
    const end = clampPoint(at, this.picture);
    if (!this.first) {
      this.first = end;
      return;
    }
    const from = this.first;
    this.first = null;
    const tapPx = Math.min(MOST_TAP_PX, Math.max(LEAST_TAP_PX, TAP_PX / this.view.scale));
    this.onEdge(from, end, tapPx);
  }

  /** Does what a key means; false when it means nothing here. */
  press(key: string, shift: boolean): boolean {
    const arrows: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    };
    const arrow = arrows[key];
    if (arrow) {
      const step = (shift ? FINE_PX : STEP_PX) / this.view.scale;
      const at = this.cursor ?? { u: this.picture.width / 2, v: this.picture.height / 2 };
      this.cursor = clampPoint({ u: at.u + arrow[0] * step, v: at.v + arrow[1] * step }, this.picture);
      this.view = revealPoint(this.view, this.cursor, 24, this.picture, this.frame);
    } else if (key === 'Enter' && this.cursor) this.setEnd(this.cursor);
    else if (key === 'Escape') this.first = this.cursor = null;
    else if (key === '+' || key === '=') this.zoom(1.5);
    else if (key === '-') this.zoom(1 / 1.5);
    else if (key === '0') this.showWhole();
    else return false;
    return true;
  }
}
