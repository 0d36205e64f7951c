import type { NewReading } from '../../app/editReadings.ts';

/** The reading that is being entered: a place tapped on the wall or typed, waiting for what the rule read (mm; null = not yet). */
export class OpenRow {
  along = $state.raw<number | null>(null);
  up = $state.raw<number | null>(null);
  distance = $state.raw<number | null>(null);
  /** Null: as the reading before. */
  sigma = $state.raw<number | null>(null);
  readonly isWhole = $derived(this.along !== null && this.up !== null && this.distance !== null);

  /** The reading when it is whole, and an empty row again; else null. */
  take(): NewReading | null {
    const { along, up, distance, sigma } = this;
    if (along === null || up === null || distance === null) return null;
    this.along = this.up = this.distance = this.sigma = null;
    return { along, up, distance, ...(sigma === null ? {} : { sigma }) };
  }
}
