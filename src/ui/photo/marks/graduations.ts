import type { ImagePoint } from '../../../core/camera/frames.ts';
import { snapToGraduation, SNAP_REACH_PX, type Snap } from '../../../core/tape/snap.ts';
import type { GreyCrop } from '../../../core/tape/snapCrop.ts';
import type { OpenPicture } from '../picture.ts';
import { REACH_PX } from '../reach.ts';

/** A piece of the picture is read with so much to spare (px), so that a finger that slides reads it seldom. */
const SPARE_PX = 40;

/** Finds the graduation that a press on an opened picture means; the piece read last is kept. */
export class Graduations {
  private readonly canvas = document.createElement('canvas');
  private crop: GreyCrop | null = null;

  constructor(private readonly picture: Pick<OpenPicture, 'full' | 'width' | 'height'>) {}

  /** The graduation nearest to an image point (px of the whole picture), no further on screen than a finger; null = none. */
  find(at: ImagePoint, direction: ImagePoint | null, scale: number): Snap | null {
    const { full, width } = this.picture;
    // a picture opened reduced has fewer px
    const share = full.width / width;
    const inFull = { u: (at.u + 0.5) * share - 0.5, v: (at.v + 0.5) * share - 0.5 };
    const crop = this.read(inFull);
    const snap = crop && snapToGraduation(crop, inFull, direction);
    if (!snap) return null;
    const found = {
      u: (snap.u + 0.5) / share - 0.5,
      v: (snap.v + 0.5) / share - 0.5,
      sigmaPx: snap.sigmaPx / share,
      spacingPx: snap.spacingPx / share,
    };
    const awayPx = Math.hypot(found.u - at.u, found.v - at.v) * scale;
    return awayPx <= REACH_PX ? found : null;
  }

  private read({ u, v }: ImagePoint): GreyCrop | null {
    const { crop } = this;
    const { full } = this.picture;
    const inside = (from: number, size: number, at: number, all: number) =>
      (from === 0 || at - from >= SNAP_REACH_PX) &&
      (from + size === all || from + size - 1 - at >= SNAP_REACH_PX);
    if (crop && inside(crop.u0, crop.width, u, full.width) && inside(crop.v0, crop.height, v, full.height))
      return crop;
    const reach = SNAP_REACH_PX + SPARE_PX;
    const u0 = Math.max(0, Math.round(u) - reach);
    const v0 = Math.max(0, Math.round(v) - reach);
    const width = Math.min(full.width, Math.round(u) + reach + 1) - u0;
    const height = Math.min(full.height, Math.round(v) + reach + 1) - v0;
    if (width < 2 || height < 2) return null;
    Object.assign(this.canvas, { width, height });
    const context = this.canvas.getContext('2d', { willReadFrequently: true });
    if (!context) return null;
    context.drawImage(full, u0, v0, width, height, 0, 0, width, height);
    const { data } = context.getImageData(0, 0, width, height);
    // red ink shows in green, black in all: green counts double
    const values = Float32Array.from(
      { length: width * height },
      (_, i) => (data[4 * i]! + 2 * data[4 * i + 1]! + data[4 * i + 2]!) / 4,
    );
    this.crop = { values, width, height, u0, v0 };
    return this.crop;
  }
}
