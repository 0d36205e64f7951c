import type { Warning } from '../core/refusal.ts';
import type { Photo, Survey } from '../core/survey.ts';
import { readPictureFacts } from '../file/exif.ts';
import { parseSurvey, writeSurvey } from '../file/survey.ts';
import type { Session } from './session.svelte.ts';
import { startVisionWorker } from './startWorkers.ts';
import type { Stop } from './trouble.ts';
import { WorkerLine, type Answer } from './workers.ts';

interface Ask {
  readonly survey: Survey;
  readonly photoId: string;
  readonly focal35Mm: number | null;
  readonly blob: Blob;
  readonly again: boolean;
}

interface Looked {
  readonly photo: Photo;
  readonly warnings: readonly Warning[];
}

/** Where one photo is in the job of finding the line. */
export type FindState =
  | { readonly state: 'waiting' }
  | { readonly state: 'busy'; readonly share: number }
  | { readonly state: 'done'; readonly warnings: readonly Warning[] }
  | { readonly state: 'stopped'; readonly stop: Stop };

/**
 * The survey with what the finder saw put into a photo: points and gaps of its lines and the picture's size and focal length. What the
 * user changed in the photo meanwhile (marks, stand, height of a line) stays.
 */
export function mergeFound(survey: Survey, found: Photo): Survey {
  const photos = survey.photos.map((photo) => {
    if (photo.id !== found.id) return photo;
    const lines = photo.lines.map((line) => {
      const seen = found.lines.find((each) => each.id === line.id);
      return seen ? { ...line, points: seen.points, gaps: seen.gaps } : line;
    });
    const { widthPx, heightPx, focal35Mm } = found;
    return { ...photo, lines, widthPx, heightPx, focal35Mm };
  });
  return { ...survey, photos };
}

/** A photo as the survey file keeps it, rounded alike, so that a survey solves to the same before and after it was a file. */
function asFiled(survey: Survey, photo: Photo): Photo {
  return parseSurvey(writeSurvey({ ...survey, photos: [photo] })).photos[0]!;
}

/** The job of finding the line in photographs: one after the other in a worker, told photo by photo, cancelled as a whole. */
export class Finding {
  running = $state(false);
  states = $state.raw<Readonly<Record<string, FindState>>>({});
  readonly share = $derived.by(() => {
    const all = Object.values(this.states);
    const done = all.map((each) => (each.state === 'busy' ? each.share : each.state === 'waiting' ? 0 : 1));
    return all.length === 0 ? 0 : done.reduce((sum, each) => sum + each, 0) / all.length;
  });
  private line = new WorkerLine<Ask, Looked>(startVisionWorker);
  private current = 0;

  constructor(private readonly session: Session) {}

  /** Looks for the lines of the given photos; `again` = also those that have points. Ends when done or cancelled. */
  async run(photos: readonly Photo[], again: boolean): Promise<void> {
    if (this.running || photos.length === 0) return;
    const run = ++this.current;
    const survey = this.session.id;
    this.running = true;
    this.states = Object.fromEntries(photos.map((photo) => [photo.id, { state: 'waiting' } as const]));
    for (const { id } of photos) {
      const photo = this.session.survey?.photos.find((each) => each.id === id);
      if (!photo) continue;
      const answer = await this.look(photo, again);
      if (run !== this.current || this.session.id !== survey) return;
      if (!answer.ok) {
        if (answer.stop === null) return;
        this.tell(id, { state: 'stopped', stop: answer.stop });
        continue;
      }
      const current = this.session.survey;
      if (current)
        this.session.change(mergeFound(current, asFiled(current, answer.value.photo)), `find ${run}`);
      this.tell(id, { state: 'done', warnings: answer.value.warnings });
    }
    this.rest();
  }

  /** Stops the job; what was found so far stays. */
  cancel(): void {
    this.current++;
    this.rest();
    const ended = Object.entries(this.states).filter(
      ([, each]) => each.state !== 'waiting' && each.state !== 'busy',
    );
    this.states = Object.fromEntries(ended);
  }

  /** Forgets what was told about the last job. */
  forget(): void {
    if (this.running) this.cancel();
    this.states = {};
  }

  private async look({ id, file }: Photo, again: boolean): Promise<Answer<Looked>> {
    this.tell(id, { state: 'busy', share: 0 });
    const bytes = await this.session.readPhoto(file);
    const { survey } = this.session;
    if (!bytes || !survey) return { ok: false, stop: { code: 'photo_missing', photo: id, file } };
    const { focal35Mm } = readPictureFacts(new Uint8Array(bytes));
    const ask = { survey, photoId: id, focal35Mm, blob: new Blob([bytes]), again };
    return this.line.ask(ask, (share) => this.tell(id, { state: 'busy', share }));
  }

  private tell(id: string, state: FindState): void {
    this.states = { ...this.states, [id]: state };
  }

  private rest(): void {
    this.running = false;
    // the wasm heap never shrinks: end the worker so that the phone has its memory back
    this.line.cancel();
  }
}
