import type { WantedMeasure } from './editWanted.ts';
import type { Session } from './session.svelte.ts';

const SETTING = 'wanted';

/** The measurement that the user set out for, kept on the device: a phone may throw the page out while its camera is open. */
export class Wanted {
  private kept = $state.raw<{ readonly survey: string; readonly measure: WantedMeasure } | null>(null);
  readonly measure = $derived.by(() => (this.kept?.survey === this.session.id ? this.kept.measure : null));

  constructor(private readonly session: Session) {}

  set(measure: WantedMeasure | null): void {
    const { id } = this.session;
    this.kept = id !== null && measure ? { survey: id, measure } : null;
    void this.session.remember(SETTING, this.kept ? JSON.stringify(this.kept) : '');
  }

  /** Comes back to what was set out for before the page was left. */
  async restore(): Promise<void> {
    const text = await this.session.store.readSetting(SETTING);
    if (text && !this.kept) this.kept = JSON.parse(text) as typeof this.kept;
  }
}
