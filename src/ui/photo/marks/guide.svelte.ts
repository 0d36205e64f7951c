import { addMark, addTapeMark, setStand } from '../../../app/editMarks.ts';
import { setSheet } from '../../../app/editLines.ts';
import type { Asking } from '../../../app/asking.svelte.ts';
import {
  askNext,
  findTape,
  placeKey,
  proposePlacement,
  tapeAxis,
  type AskedPlace,
} from '../../../app/placement.ts';
import type { ImagePoint } from '../../../core/camera/frames.ts';
import type { LineAxis, Survey } from '../../../core/survey.ts';
import { parseLength } from '../../units.ts';
import { guessReliefMm } from '../doubt.ts';
import type { Sight } from '../sight.svelte.ts';
import type { Placed, Work } from '../work.svelte.ts';
import { foreseePlace, isDoubtful } from './foresee.ts';

/** Graduations of a tape whose pitch nobody told (mm). */
const PITCH_MM = 10;

/** The guided pass through one photo: the one next thing, by what the survey holds; what is typed and not taken yet. */
export class Guide {
  /** The user names the place themselves: "Something else". */
  naming = $state(false);
  alongText = $state('');
  upText = $state('');
  /** A press that is not where the place should be, until the user says so. */
  doubted = $state.raw<{ readonly at: Placed; readonly place: AskedPlace } | null>(null);
  /** A press for which something is still to be typed. */
  wanting = $state(false);
  /** What the last press was taken for, to be undone. */
  last = $state.raw<{ readonly place: AskedPlace; readonly survey: Survey } | null>(null);

  readonly note = $derived.by(() => this.asking.noteOf(this.work.photo.id));
  readonly placement = $derived.by(() => proposePlacement(this.work.survey, this.work.photo.id));
  readonly ask = $derived.by(() => askNext(this.work.survey, this.work.photo.id, this.note));
  readonly axis: LineAxis = $derived.by(() => this.work.photo.lines[0]?.sheet.axis ?? 'level');
  readonly tapeAxis = $derived.by(() => tapeAxis(this.axis));
  /** What is typed or, in an empty field, proposed (mm); null = nothing, or no length. */
  readonly typedMm = $derived.by(() => {
    if (this.text.trim() !== '') return this.read(this.text);
    return this.ask.kind === 'line' ? this.placement.lineMm : this.placement.tapeMm;
  });
  /** Place across of the tape (mm). */
  private readonly tapeMm = $derived.by(() => {
    const { photo, survey } = this.work;
    const told = findTape(photo, survey.wall, this.placement.readings) ?? this.note.tapeMm;
    return told ?? (this.ask.kind === 'tape' ? this.typedMm : null);
  });
  /** The place that a press is taken for now; null = none, or not known yet. */
  readonly wanted: AskedPlace | null = $derived.by(() => {
    const { ask } = this;
    if (this.naming || ask.kind === 'free') return this.namedPlace();
    if (ask.kind === 'mark') return ask.place;
    return ask.kind === 'tape' && this.tapeMm !== null ? this.onTape(this.placement.readings[0]) : null;
  });
  readonly foreseen = $derived.by(() => {
    const { wanted, work, sight } = this;
    if (!wanted) return null;
    const relief = guessReliefMm(work.survey.readings);
    return foreseePlace(work.photo.marks, wanted, sight.placing.resection, sight.outMm, relief);
  });
  /** A press on the picture is asked for. */
  readonly wantsPress = $derived.by(() => ['tape', 'mark', 'free'].includes(this.ask.kind));
  /** The photo before this one whose stand was measured. */
  readonly stoodBefore = $derived.by(() => {
    const { photos } = this.work.survey;
    const earlier = photos.slice(0, photos.indexOf(this.work.photo));
    return earlier.findLast(({ stand }) => stand.off !== null && (stand.up ?? stand.along) !== null) ?? null;
  });

  constructor(
    readonly work: Work,
    private readonly sight: Sight,
    readonly asking: Asking,
  ) {}

  /** What is typed into the field that is asked: the line's place, or the tape's. It is there again after the page was left. */
  get text(): string {
    const { typed } = this.note;
    return typed?.ask === this.ask.kind ? typed.text : '';
  }
  set text(text: string) {
    const typed = text === '' ? null : { ask: this.ask.kind, text };
    if (typed || this.note.typed) this.asking.note(this.work.photo.id, { typed });
  }

  /** Takes what is typed or proposed; false where it is no length. */
  takeText(): boolean {
    const { ask, work, typedMm } = this;
    if (typedMm === null) return false;
    if (ask.kind === 'line') work.change(setSheet(work.survey, work.photo.id, ask.line, { at: typedMm }));
    else this.asking.note(work.photo.id, { tapeMm: typedMm });
    this.text = '';
    return true;
  }

  /** A press on the picture: the mark that is asked, unless something is to be typed or asked first. */
  press(at: Placed): void {
    const { wanted, work } = this;
    this.doubted = null;
    this.wanting = wanted === null;
    if (!wanted) return;
    const marks = work.photo.marks.filter(({ leftOut }) => !leftOut);
    if (isDoubtful(at, this.foreseen, marks, wanted)) this.doubted = { at, place: wanted };
    else this.set(at, wanted);
  }

  /** The doubted press is right. */
  confirm(): void {
    const { doubted } = this;
    this.doubted = null;
    if (doubted) this.set(doubted.at, doubted.place);
  }

  /** What is asked is not in this picture. */
  skip(): void {
    const { ask, note, work } = this;
    const key = ask.kind === 'mark' ? placeKey(ask.place) : 'tape';
    this.asking.note(work.photo.id, { skipped: [...note.skipped, key] });
    this.text = '';
    this.doubted = null;
  }

  takeStand(): void {
    const { work, stoodBefore } = this;
    if (stoodBefore) work.change(setStand(work.survey, work.photo.id, stoodBefore.stand));
  }

  /** Where strokes are to be snapped to for the press that is asked: along the tape; null = nowhere. */
  snapDirection(): ImagePoint | 'any' | null {
    const { wanted, ask } = this;
    if (wanted ? wanted.kind !== 'tape' : ask.kind !== 'tape') return this.naming ? 'any' : null;
    return this.tapeAxis === 'along' ? { u: 1, v: 0 } : { u: 0, v: 1 };
  }

  private set({ u, v, sigmaPx }: Placed, place: AskedPlace): void {
    const { work, ask, naming, note } = this;
    const mark = { u, v, along: place.along, up: place.up, sigma: sigmaPx };
    const { survey, photo } = work;
    const next =
      place.kind === 'tape'
        ? addTapeMark(survey, photo.id, mark, { axis: this.tapeAxis, pitch: PITCH_MM })
        : addMark(survey, photo.id, mark);
    work.change(next);
    this.last = { place, survey: next };
    // another place was named in its stead
    if (naming && ask.kind === 'mark')
      this.asking.note(photo.id, { skipped: [...note.skipped, placeKey(ask.place)] });
    this.naming = false;
    this.text = this.alongText = this.upText = '';
  }

  private onTape(reading: number): AskedPlace {
    const across = this.tapeMm!;
    return this.tapeAxis === 'along'
      ? { along: reading, up: across, kind: 'tape' }
      : { along: across, up: reading, kind: 'tape' };
  }

  private namedPlace(): AskedPlace | null {
    const { ask } = this;
    if (ask.kind === 'tape' || (ask.kind === 'mark' && ask.place.kind === 'tape')) {
      const reading = this.read(this.alongText);
      return reading === null || this.tapeMm === null ? null : this.onTape(reading);
    }
    const [along, up] = [this.read(this.alongText), this.read(this.upText)];
    return along === null || up === null ? null : { along, up, kind: 'place' };
  }

  private read(text: string): number | null {
    const mm = parseLength(text, this.work.survey.units);
    return Number.isNaN(mm) ? null : mm;
  }
}
