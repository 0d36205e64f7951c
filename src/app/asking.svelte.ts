import type { Session } from './session.svelte.ts';

/** What the user told the guide about one photo that is no part of the survey. */
export interface AskingNote {
  /** Names of places (`placeKey`) that are not in the picture; "tape" = no tape lies in it. */
  readonly skipped: readonly string[];
  /** Place across of the tape (mm) told before a mark lies on it. */
  readonly tapeMm: number | null;
  /** The line seen in the picture was taken for the one it shows, once. */
  readonly adopted: boolean;
  /** What is typed and not taken yet, and what for. */
  readonly typed: { readonly ask: string; readonly text: string } | null;
}

const NOTHING: AskingNote = { skipped: [], tapeMm: null, adopted: false, typed: null };

/** The guide's notes of the open survey, kept on the device: small, and no loss when they are lost. */
export class Asking {
  /** The user goes their own way: the guide shows only how to call it back. */
  away = $state(false);
  private notes = $state.raw<Readonly<Record<string, AskingNote>>>({});
  private of: string | null = null;
  private reading: Promise<void> = Promise.resolve();

  constructor(private readonly session: Session) {}

  /** Reads the notes of the survey that is open; done at once when they are read already. */
  read(): Promise<void> {
    const { id, store } = this.session;
    if (id === this.of) return this.reading;
    this.of = id;
    this.notes = {};
    this.reading = (async () => {
      const kept: unknown = JSON.parse((await store.readSetting(`asking ${id}`)) ?? '{}');
      if (this.of === id && kept && typeof kept === 'object')
        this.notes = { ...(kept as Record<string, AskingNote>), ...this.notes };
    })().catch(() => undefined);
    return this.reading;
  }

  noteOf(photoId: string): AskingNote {
    return { ...NOTHING, ...this.notes[photoId] };
  }

  note(photoId: string, part: Partial<AskingNote>): void {
    this.notes = { ...this.notes, [photoId]: { ...this.noteOf(photoId), ...part } };
    if (this.of !== null) void this.session.remember(`asking ${this.of}`, JSON.stringify(this.notes));
  }
}
