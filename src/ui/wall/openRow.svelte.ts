import type { NewReading } from '../../app/editReadings.ts';

/** What is typed of a reading (mm; null = not yet). */
export type RowDraft = Readonly<Record<'along' | 'up' | 'distance' | 'sigma', number | null>>;

/** The reading that is being entered: a place tapped on the wall or typed, waiting for what the rule read (mm; null = not yet). */
export class OpenRow {
  along = $state.raw<number | null>(null);
  up = $state.raw<number | null>(null);
  distance = $state.raw<number | null>(null);
  /** Null: as the reading before. */
  sigma = $state.raw<number | null>(null);
  readonly isWhole = $derived(this.along !== null && this.up !== null && this.distance !== null);

  /** What is typed of it, null = nothing. */
  readonly draft = $derived.by((): RowDraft | null => {
    const { along, up, distance, sigma } = this;
    return [along, up, distance, sigma].some((each) => each !== null) ? { along, up, distance, sigma } : null;
  });

  /** Takes up what was typed before the page was left, unless something is there already. */
  restore(draft: RowDraft | null): void {
    if (draft && !this.draft) Object.assign(this, draft);
  }

  /** The reading when it is whole, and an empty row again; else null. */
  take(): NewReading | null {
    const { along, up, distance, sigma } = this;
    if (along === null || up === null || distance === null) return null;
    this.along = this.up = this.distance = this.sigma = null;
    return { along, up, distance, ...(sigma === null ? {} : { sigma }) };
  }
}
