import { runAxis } from '../../app/editPhoto.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import { listFellows } from '../../core/camera/fixedPhone.ts';
import type { Profile } from '../../core/results.ts';
import type { LaserLine, Photo } from '../../core/survey.ts';
import { measureDistance } from '../../core/tape/distance.ts';
import { doubtPlacing, guessReliefMm } from './doubt.ts';
import { imageOnLine, meanOutMm, placeOnLine, placePhoto, seeLine, type Placing } from './measure.ts';
import { fitShift, NO_SHIFT, orderRun } from './run.ts';
import type { Work } from './work.svelte.ts';

/** What the photo on the desk is worth as it stands, worked out anew whenever what it rests on changes, and no oftener. */
export class Sight {
  // each of these changes only when its own value does, so that moving a point does not resect the photo again
  private readonly id = $derived.by(() => this.work.photo.id);
  private readonly marks = $derived.by(() => this.work.photo.marks);
  private readonly tapes = $derived.by(() => this.work.photo.tapes);
  private readonly stand = $derived.by(() => this.work.photo.stand);
  private readonly focal35Mm = $derived.by(() => this.work.photo.focal35Mm);
  private readonly width = $derived.by(() => this.work.photo.widthPx ?? this.size()?.width);
  private readonly height = $derived.by(() => this.work.photo.heightPx ?? this.size()?.height);
  private readonly lens = $derived.by(() => {
    const { phones } = this.work.survey;
    return (phones.find((phone) => phone.id === this.work.photo.phone) ?? phones[0])?.lens;
  });
  readonly outMm = $derived.by(() => meanOutMm(this.work.survey.readings));

  private readonly knownLens = $derived.by(() => this.lens ?? { k1: null, sigma: 0.01 });
  private lastFellows: readonly Photo[] = [];
  /** The other photos by the same unmoved phone; the same list as long as what they tell of its place is the same. */
  readonly fellows = $derived.by(() => {
    const next = listFellows(this.work.survey.photos, this.work.photo);
    const same =
      next.length === this.lastFellows.length &&
      next.every((photo, k) => {
        const last = this.lastFellows[k]!;
        return (
          photo.id === last.id &&
          photo.marks === last.marks &&
          photo.tapes === last.tapes &&
          photo.stand === last.stand
        );
      });
    if (!same) this.lastFellows = next;
    return this.lastFellows;
  });
  /** The photo with what places it, and no lines. */
  private readonly evidence = $derived.by((): Photo => {
    const { id, marks, tapes, stand, focal35Mm, width: widthPx, height: heightPx } = this;
    return {
      id,
      file: '',
      phone: '',
      masks: [],
      tapes,
      lines: [],
      marks,
      stand,
      focal35Mm,
      widthPx,
      heightPx,
    };
  });
  private readonly reliefMm = $derived.by(() => guessReliefMm(this.work.survey.readings));
  private readonly alone = $derived.by(() => this.place(this.evidence));
  /** Where the photo was taken from by marks and stand; its lines are asked only where two places fit alike. */
  readonly unpacked = $derived.by(() => {
    if (!this.alone.resection?.rival) return this.alone;
    return this.place({ ...this.evidence, lines: this.work.photo.lines });
  });
  /** Where the photo was taken from by all that it shows, packers too. */
  readonly placing = $derived.by(() => {
    const { blocks = [], lines } = this.work.photo;
    if (blocks.length === 0) return this.unpacked;
    const packed = this.place({ ...this.evidence, lines, blocks });
    return packed.resection ? packed : this.unpacked;
  });
  readonly doubt = $derived.by(() =>
    doubtPlacing(this.evidence, this.knownLens, this.outMm, this.reliefMm, this.unpacked, this.fellows),
  );
  /** The distance on the wall between the two places tapped for it; null where it cannot be said. */
  readonly measured = $derived.by(() => {
    const { span } = this.work;
    const { resection } = this.placing;
    if (!span?.to || !resection) return null;
    return measureDistance(resection, span.from, span.to, this.outMm, { tapPx: 1, outMm: this.reliefMm });
  });
  private readonly line = $derived.by(() => this.work.line);
  private readonly axis = $derived.by(() => runAxis(this.work.line?.sheet.axis ?? 'level'));
  /** The line as this photo alone sees it; null when the photo has no line. */
  readonly seen = $derived.by(() => (this.line ? seeLine(this.work.photo, this.line, this.placing) : null));
  readonly run = $derived.by(() => (this.seen?.found ? orderRun(this.seen.found, this.axis) : null));
  /** Mm of wall offset per px across the line, its middle value; null where it cannot be said. */
  readonly perPxMm = $derived.by(() => {
    const values = this.seen?.found ? this.seen.found.outPerPx.slice().sort() : new Float64Array(0);
    return values.length > 0 ? values[values.length >> 1]! : null;
  });
  /** The solved profile of this line, if there is one; of the same photo and line only. */
  readonly solved = $derived.by(() => {
    const own = (each: Profile) => each.photo === this.id && each.line === this.line?.id;
    return this.profiles().find(own) ?? null;
  });
  readonly shift = $derived.by(() =>
    this.run && this.solved ? fitShift(this.run, this.solved, this.axis) : NO_SHIFT,
  );

  constructor(
    private readonly work: Work,
    private readonly profiles: () => readonly Profile[],
    private readonly size: () => { width: number; height: number } | null,
  ) {}

  /** The image point that a place on the line's sheet (mm, as `placeOf` tells it) is seen at; null where it cannot be said. */
  imageOf(line: LaserLine, { s, out }: { readonly s: number; readonly out: number }): ImagePoint | null {
    return imageOnLine(this.placing, line, s, out - this.shift.out - this.shift.slope * s);
  }

  private place(photo: Photo): Placing {
    return placePhoto(photo, this.knownLens, this.outMm, this.reliefMm, this.fellows);
  }

  /** Wall offset (mm) that an image point on the line stands for, as the chart draws it; NaN where it cannot be said. */
  placeOf(
    line: LaserLine,
    at: { readonly u: number; readonly v: number },
  ): { s: number; out: number } | null {
    const place = placeOnLine(this.placing, line, at);
    if (!place) return null;
    const s = line.sheet.axis === 'level' ? place.along : place.up;
    return { s, out: place.out + this.shift.out + this.shift.slope * s };
  }
}
