import type { Survey } from '../core/survey.ts';
import { listPictureFiles } from '../file/pictureFiles.ts';
import { parseSurvey } from '../file/survey.ts';
import { amendSteps, recordStep, redoStep, startHistory, undoStep, type History } from './history.ts';
import { freshness, type Solved } from './solved.ts';
import { makeMemoryStore, openStore, type Store, type SurveyCard } from './store.ts';
import type { Stop } from './trouble.ts';

/** Whether what is on screen is also on the device. */
export type Saving =
  | { readonly state: 'saving' }
  | { readonly state: 'saved'; readonly at: number }
  | { readonly state: 'failed'; readonly reason: string };

const reasonOf = (thrown: unknown) =>
  thrown instanceof Error ? thrown.message || thrown.name : String(thrown);

/** The open survey, its undo, its result, and what of it is on the device. Documents are immutable values. */
export class Session {
  store: Store = makeMemoryStore();
  cards = $state.raw<readonly SurveyCard[]>([]);
  id = $state.raw<string | null>(null);
  solved = $state.raw<Solved | null>(null);
  saving = $state.raw<Saving>({ state: 'saving' });
  ready = $state.raw(false);
  /** When the open survey was last saved as a file (ms since 1970), null = never. */
  filedAt = $state.raw<number | null>(null);
  /** Counts photographs kept, so that a screen looks again for one that was missing. */
  photosKept = $state(0);
  /** The last thing that went wrong and was not told in its own place. */
  stop = $state.raw<Stop | null>(null);
  private history = $state.raw<History<Survey> | null>(null);
  /** Photographs that the device would not keep. */
  private spare: Store = makeMemoryStore();
  private saveRunning: Promise<void> | null = null;
  private saveAgain = false;

  readonly survey = $derived(this.history?.present ?? null);
  readonly canUndo = $derived((this.history?.past.length ?? 0) > 0);
  readonly canRedo = $derived((this.history?.future.length ?? 0) > 0);
  readonly freshness = $derived(this.survey ? freshness(this.solved, this.survey) : 'none');

  /** Opens the store, throws out what was deleted last time, and comes back to the survey that was open. */
  async start(open: () => Promise<Store> = openStore): Promise<void> {
    this.store = await open();
    const cards = await this.store.listCards();
    for (const card of cards) if (card.removedAt !== null) await this.store.deleteSurvey(card.id);
    this.cards = cards.filter((card) => card.removedAt === null);
    const last = await this.store.readSetting('open');
    if (last && this.cards.some((card) => card.id === last)) await this.openSurvey(last);
    this.ready = true;
  }

  /** Opens a survey kept on the device; says so and keeps the open one when it cannot be read. */
  async openSurvey(id: string): Promise<boolean> {
    const title = this.cards.find((card) => card.id === id)?.title ?? id;
    await this.saveRunning;
    try {
      const kept = await this.store.readSurvey(id);
      if (!kept) throw new Error('missing');
      const survey = parseSurvey(kept.survey);
      const result = await this.store.readResult(id);
      this.show(id, survey);
      // a result of an earlier version lacks what this one shows, and is made anew
      const isWhole =
        result && 'setbacks' in result.solution && (!result.plan || 'reasons' in result.plan.verdict);
      if (isWhole && result.stamp === kept.solvedStamp)
        this.solved = { ...result, of: survey, planStop: null, quick: false, next: result.next ?? null };
      this.saving = { state: 'saved', at: this.cards.find((card) => card.id === id)?.savedAt ?? Date.now() };
      this.filedAt = Number(await this.store.readSetting(`filed ${id}`)) || null;
      await dropOrphans(this.store, id, survey);
      await this.remember('open', id);
      return true;
    } catch {
      this.stop = { code: 'survey_unreadable', title };
      return false;
    }
  }

  /** Takes a survey in under a new id (or a given one) with its photographs, and opens it. */
  async addSurvey(survey: Survey, photos: ReadonlyMap<string, ArrayBuffer>, id = newId()): Promise<void> {
    await this.saveRunning;
    let unkept: Stop | null = null;
    for (const [file, bytes] of photos) unkept = (await this.keep(id, file, bytes)) ?? unkept;
    this.show(id, survey);
    this.stop = unkept;
    await this.save();
    await this.remember('open', id);
    void globalThis.navigator?.storage?.persist?.();
  }

  /** One change of the open survey: one step of undo, and saved. */
  change(next: Survey, gesture: string | null = null): void {
    if (!this.history) return;
    this.setHistory(recordStep(this.history, next, gesture));
  }

  /** Puts what a job in the background found into the open survey: no step of undo, and kept when one is undone. */
  amend(change: (step: Survey) => Survey): void {
    if (this.history) this.setHistory(amendSteps(this.history, change));
  }

  undo(): void {
    if (this.history && this.canUndo) this.setHistory(undoStep(this.history));
  }

  redo(): void {
    if (this.history && this.canRedo) this.setHistory(redoStep(this.history));
  }

  /** Notes that the open survey was saved as a file, the only copy that outlasts this browser. */
  async markFiled(): Promise<void> {
    this.filedAt = Date.now();
    if (this.id) await this.remember(`filed ${this.id}`, String(this.filedAt));
  }

  /** Takes a new result; a full one is kept on the device with the survey it belongs to. */
  async takeSolved(solved: Solved): Promise<void> {
    this.solved = solved;
    if (solved.quick) return;
    const { stamp, solution, plan, next } = solved;
    if (this.id)
      await this.store.writeResult({ id: this.id, stamp, solution, plan, next }).catch(() => undefined);
    await this.save();
  }

  /** Deletes a survey from the list; it can be put back until the page is opened the next time. */
  async markRemoved(id: string, removed: boolean): Promise<void> {
    const card = this.cards.find((each) => each.id === id);
    if (!card) return;
    const changed = { ...card, removedAt: removed ? Date.now() : null };
    this.cards = this.cards.map((each) => (each.id === id ? changed : each));
    await this.store.writeCard(changed).catch(() => undefined);
    if (!removed || this.id !== id) return;
    this.id = null;
    this.history = null;
    this.solved = null;
    await this.remember('open', '');
  }

  /** Keeps a photograph of the open survey; in memory, and said so, when the device will not. */
  async keepPhoto(file: string, bytes: ArrayBuffer): Promise<void> {
    if (this.id) this.stop = (await this.keep(this.id, file, bytes)) ?? this.stop;
    this.photosKept++;
  }

  /** The bytes of a photograph of the open survey, null when they are not here. */
  async readPhoto(file: string): Promise<ArrayBuffer | null> {
    const { id } = this;
    if (id === null) return null;
    const spare = await this.spare.readPhoto(id, file);
    return spare ?? (await this.store.readPhoto(id, file).catch(() => undefined)) ?? null;
  }

  async remember(key: string, value: string): Promise<void> {
    await this.store.writeSetting(key, value).catch(() => undefined);
  }

  private async keep(id: string, file: string, bytes: ArrayBuffer): Promise<Stop | null> {
    try {
      await this.store.writePhoto(id, file, bytes);
      return null;
    } catch {
      await this.spare.writePhoto(id, file, bytes);
      return { code: 'photo_not_kept', file };
    }
  }

  private show(id: string, survey: Survey): void {
    this.id = id;
    this.history = startHistory(survey);
    this.solved = null;
    this.stop = null;
    this.filedAt = null;
  }

  private setHistory(history: History<Survey>): void {
    if (history === this.history) return;
    this.history = history;
    void this.save();
  }

  /** Writes the open survey; changes made meanwhile are written by one more turn. */
  private save(): Promise<void> {
    this.saveAgain = true;
    this.saveRunning ??= this.saveLoop().finally(() => {
      this.saveRunning = null;
    });
    return this.saveRunning;
  }

  private async saveLoop(): Promise<void> {
    while (this.saveAgain) {
      this.saveAgain = false;
      const { id, survey, solved } = this;
      if (!id || !survey) return;
      this.saving = { state: 'saving' };
      const card = cardOf(id, survey, Date.now());
      const solvedStamp = this.freshness === 'fresh' && !solved?.quick ? (solved?.stamp ?? null) : null;
      try {
        await this.store.writeSurvey(card, { id, survey, solvedStamp });
        this.saving = this.store.lasting
          ? { state: 'saved', at: card.savedAt }
          : { state: 'failed', reason: 'this browser window keeps nothing' };
      } catch (thrown) {
        this.saving = { state: 'failed', reason: reasonOf(thrown) };
      }
      const others = this.cards.filter((each) => each.id !== id);
      this.cards = [card, ...others];
    }
  }
}

/** Throws out photographs that no photo of the survey names: left by an undone "add" or a photo taken away. */
async function dropOrphans(store: Store, id: string, survey: Survey): Promise<void> {
  const named = listPictureFiles(survey);
  for (const file of await store.listPhotos(id)) if (!named.includes(file)) await store.deletePhoto(id, file);
}

function cardOf(id: string, survey: Survey, savedAt: number): SurveyCard {
  return {
    id,
    title: survey.title,
    savedAt,
    widthMm: survey.wall.width,
    heightMm: survey.wall.height,
    photoCount: survey.photos.length,
    readingCount: survey.readings.length,
    removedAt: null,
  };
}

/** An id for a survey on this device; `randomUUID` is missing where the page is not served securely. */
const newId = (): string =>
  globalThis.crypto?.randomUUID?.() ?? `s${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
