import type { ImagePoint } from '../core/camera/frames.ts';
import type { TracedEdge } from './edgeTrace.ts';

/** Follow one straight thing in a photograph between two tapped places, each within `tapPx` of it; `B` is the page's Blob. */
export interface EdgeAsk<B> {
  readonly blob: B;
  /** The photograph's name; the same name is the same picture. */
  readonly file: string;
  readonly from: ImagePoint;
  readonly to: ImagePoint;
  readonly tapPx: number;
  /** Its number, for a refusal. */
  readonly edge: number;
}

/** What was followed, and the size of the upright picture (px). */
export interface EdgeAnswer {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly traced: TracedEdge;
}
