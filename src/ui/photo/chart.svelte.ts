import { ticks } from 'd3';
import { runAxis } from '../../app/editPhoto.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import { findPlace, interpolate, rangeInside } from './run.ts';
import type { Sight } from './sight.svelte.ts';
import { carryView } from './rest.ts';
import type { Spot, View } from './view.ts';
import type { Work } from './work.svelte.ts';

/** Least height of the chart in mm, so that speckle does not look like a wall. */
const LEAST_SPAN_MM = 4;

/**
 * How the profile lies in its strip: the same axis as the picture beside it, offsets across (outwards is up, or right beside an upright line).
 * It is painted for the view at rest, and carried along while the picture moves.
 */
export class Chart {
  width = $state(0);
  height = $state(0);
  readonly run = $derived.by(() => this.sight.run);
  readonly level = $derived.by(() => runAxis(this.work.line?.sheet.axis ?? 'level') === 'u');
  /** Offsets as drawn (mm): laid on the solved surface where there is one. */
  readonly out = $derived.by(() => {
    const { run } = this;
    const { shift } = this.sight;
    return run ? run.out.map((mm, i) => mm + shift.out + shift.slope * run.s[i]!) : null;
  });
  readonly long = $derived.by(() => (this.level ? this.width : this.height));
  readonly deep = $derived.by(() => (this.level ? this.height : this.width));
  /** The part of the run that the strip shows: first index, and the one after the last. */
  readonly first = $derived.by(() =>
    this.run ? findPlace(this.run.px, this.placeAt(0, this.work.rest)) : 0,
  );
  readonly last = $derived.by(() =>
    this.run ? findPlace(this.run.px, this.placeAt(this.long, this.work.rest)) : 0,
  );
  readonly range = $derived.by(() => {
    const seen = this.out ? Array.from(this.out.subarray(this.first, this.last)) : [];
    return rangeInside(seen.length > 0 ? seen : [0], 0.005, 0.25, LEAST_SPAN_MM);
  });
  readonly outTicks = $derived.by(() =>
    ticks(this.range.low, this.range.high, this.level ? 3 : 2)
      .map((mm) => ({ mm, css: this.across(mm) }))
      .filter(({ css }) => (this.level ? css > 16 : css < this.deep - 34)),
  );
  readonly alongTicks = $derived.by(() => {
    const { run, first, last, long } = this;
    if (!run || last - first < 2) return [];
    const rising = run.s[run.s.length - 1]! > run.s[0]!;
    const [s, px] = rising ? [run.s, run.px] : [run.s.slice().reverse(), run.px.slice().reverse()];
    const wanted = ticks(run.s[first]!, run.s[last - 1]!, Math.max(2, long / 90));
    return wanted
      .map((mm) => ({ mm, css: this.along(interpolate(s, px, mm), this.work.rest) }))
      .filter(({ css }) => css > 14 && css < long - 30);
  });

  /** What takes things painted for the view at rest to where the picture is now: along the strip only, as CSS writes it. */
  readonly carry = $derived.by(() => {
    const { scale, x, y } = carryView(this.work.rest, this.work.view);
    return this.level ? `matrix(${scale}, 0, 0, 1, ${x}, 0)` : `matrix(1, 0, 0, ${scale}, 0, ${y})`;
  });

  constructor(
    private readonly work: Work,
    private readonly sight: Sight,
  ) {}

  /** Css px along the strip of a place along the line's run (px), as in the picture beside it. */
  along(px: number, view: View = this.work.view): number {
    return (this.level ? view.x : view.y) + (px + 0.5) * view.scale;
  }

  /** The place along the line's run (px) at so many css px along the strip. */
  placeAt(css: number, view: View = this.work.view): number {
    return (css - (this.level ? view.x : view.y)) / view.scale - 0.5;
  }

  /** Css px across the strip of an offset (mm). */
  across(mm: number): number {
    const share = (mm - this.range.low) / (this.range.high - this.range.low);
    return this.level ? this.deep * (1 - share) : this.deep * share;
  }

  /** Mm of offset that a movement of css px in the strip stands for. */
  mmOf(by: Spot): number {
    return ((this.level ? -by.y : by.x) * (this.range.high - this.range.low)) / this.deep;
  }

  /** Where in the strip a place along the run (px) and an offset (mm) is. */
  spotAt(px: number, mm: number, view: View = this.work.view): Spot {
    const [along, across] = [this.along(px, view), this.across(mm)];
    return this.level ? { x: along, y: across } : { x: across, y: along };
  }

  /** Where in the strip an image point of the line is; null where its offset cannot be said. */
  spotOf(point: ImagePoint): Spot | null {
    const { line } = this.work;
    const place = line && this.sight.placeOf(line, point);
    return place && this.spotAt(this.level ? point.u : point.v, place.out);
  }

  /** The number of the line's point nearest along the strip to a spot, of those that count; -1 where there is none. */
  pointAt(spot: Spot): number {
    const { run } = this;
    if (!run || run.px.length === 0) return -1;
    const px = this.placeAt(this.level ? spot.x : spot.y);
    const after = Math.min(run.px.length - 1, findPlace(run.px, px));
    return run.index[after > 0 && px - run.px[after - 1]! < run.px[after]! - px ? after - 1 : after]!;
  }
}
