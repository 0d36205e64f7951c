import type { Warning } from '../core/refusal.ts';
import type { Photo, Survey, Tape } from '../core/survey.ts';
import { readPictureFacts, usableFocal35 } from '../file/exif.ts';
import type { Session } from './session.svelte.ts';
import type { LookedPhoto } from '../vision/look.ts';
import type { Stop } from './trouble.ts';
import { asFiled } from './filed.ts';
import { readForVision } from './readForVision.ts';
import { lookAtAnySize } from './reducedLook.ts';
import { VisionLine } from './visionLine.ts';
import type { Answer } from './workers.ts';

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
    return { ...photo, tapes: mergeTapes(photo, found), lines, widthPx, heightPx, focal35Mm };
  });
  return { ...survey, photos };
}

/** A photo's tapes with what was read off them; a tape that was laid otherwise meanwhile, or whose marks were moved, stays unread. */
function mergeTapes(photo: Photo, found: Photo): readonly Tape[] {
  const sameMark = (index: number) => {
    const [one, other] = [photo.marks[index], found.marks[index]];
    // as the file rounds them
    const near = (key: 'u' | 'v' | 'along' | 'up') => Math.abs(one![key] - other![key]) < 0.001;
    return one !== undefined && other !== undefined && (['u', 'v', 'along', 'up'] as const).every(near);
  };
  return photo.tapes.map((tape) => {
    const seen = found.tapes.find(
      ({ from, to, axis, pitch }) =>
        from === tape.from && to === tape.to && axis === tape.axis && pitch === tape.pitch,
    );
    return seen?.read && sameMark(tape.from) && sameMark(tape.to) ? { ...tape, read: seen.read } : tape;
  });
}

/**
 * A step of the survey with what was found in the background: only lines without points that run and shine as the one looked for
 * take them.
 */
export function mergeQuietly(survey: Survey, found: Photo): Survey {
  const photo = survey.photos.find(({ id }) => id === found.id);
  if (!photo) return survey;
  const lines = photo.lines.map((line) => {
    const seen = found.lines.find(({ id }) => id === line.id);
    const same = seen?.sheet.axis === line.sheet.axis && seen.colour === line.colour;
    return same && line.points.length === 0 ? seen : line;
  });
  return mergeFound(survey, { ...found, lines });
}

/** One photo to look at: also lines that have points (`again`), one line alone (`only`), under which name of undo; null = no step. */
interface Job {
  readonly id: string;
  readonly again: boolean;
  readonly only: string | undefined;
  readonly gesture: string | null;
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
  private current = 0;
  private gestures = 0;
  private queue: Job[] = [];
  private ended: Promise<void> = Promise.resolve();

  constructor(
    private readonly session: Session,
    private readonly vision = new VisionLine(),
  ) {}

  /**
   * Looks for the lines of the given photos; `again` = also those that have points, `only` = one line. While a job is running they join
   * its end. Ends when all is done or cancelled.
   */
  async run(photos: readonly Photo[], again: boolean, only?: string): Promise<void> {
    const gesture = `find ${++this.gestures}`;
    return this.add(photos.map(({ id }) => ({ id, again, only, gesture })));
  }

  /** Looks for lines that have no points while the user goes on: no step of undo, and what was told of other photos stays. */
  async runQuietly(photos: readonly Photo[]): Promise<void> {
    return this.add(photos.map(({ id }) => ({ id, again: false, only: undefined, gesture: null })));
  }

  /** Takes a change that a line's search rests on (a pin) and looks for that line anew: together one step of undo. */
  async follow(edited: Survey, photoId: string, lineId: string): Promise<void> {
    if (this.isAsked(photoId)) return;
    const gesture = `find ${++this.gestures}`;
    this.session.change(edited, gesture);
    return this.add([{ id: photoId, again: true, only: lineId, gesture }]);
  }

  /** A photo is being looked at or waits for it: its points are about to be replaced. */
  isAsked(photoId: string): boolean {
    const state = this.states[photoId]?.state;
    return state === 'busy' || state === 'waiting';
  }

  private add(jobs: readonly Job[]): Promise<void> {
    const fresh = jobs.filter(({ id }) => !this.isAsked(id));
    if (fresh.length === 0) return this.ended;
    const kept = this.running || fresh.every(({ gesture }) => gesture === null) ? this.states : {};
    const waiting = fresh.map(({ id }) => [id, { state: 'waiting' } as const] as const);
    this.states = { ...kept, ...Object.fromEntries(waiting) };
    this.queue.push(...fresh);
    if (!this.running) this.ended = this.work();
    return this.ended;
  }

  private async work(): Promise<void> {
    const run = ++this.current;
    const survey = this.session.id;
    this.running = true;
    for (let job = this.queue.shift(); job; job = this.queue.shift()) {
      const { id, again, only, gesture } = job;
      const photo = this.session.survey?.photos.find((each) => each.id === id);
      if (!photo) {
        this.states = Object.fromEntries(Object.entries(this.states).filter(([key]) => key !== id));
        continue;
      }
      const answer = await this.look(photo, again, run, only);
      if (run !== this.current || this.session.id !== survey) return;
      if (!answer.ok) {
        if (answer.stop === null) return;
        this.tell(id, { state: 'stopped', stop: answer.stop });
        continue;
      }
      const current = this.session.survey;
      const found = current && asFiled(current, answer.value.photo);
      if (found && gesture === null) this.session.amend((step) => mergeQuietly(step, found));
      else if (found) this.session.change(mergeFound(current, found), gesture);
      this.tell(id, { state: 'done', warnings: answer.value.warnings });
    }
    this.running = false;
    this.vision.rest();
  }

  /** Stops the job; what was found so far stays. */
  cancel(): void {
    this.current++;
    this.queue = [];
    this.running = false;
    this.vision.cancel();
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

  private async look(
    photo: Photo,
    again: boolean,
    run: number,
    only: string | undefined,
  ): Promise<Answer<LookedPhoto>> {
    const { id, file } = photo;
    this.tell(id, { state: 'busy', share: 0 });
    const picture = await readForVision(this.session, photo);
    const { survey } = this.session;
    // cancelled while it was read: no worker is started for it
    if (run !== this.current) return { ok: false, stop: null };
    if (!picture || !survey) return { ok: false, stop: { code: 'photo_missing', photo: id, file } };
    const focal35Mm = usableFocal35(readPictureFacts(new Uint8Array(await picture.blob.arrayBuffer())));
    const ask = { kind: 'look', survey, photoId: id, focal35Mm, again, only } as const;
    return lookAtAnySize(this.vision, ask, picture, (share) => this.tell(id, { state: 'busy', share }));
  }

  private tell(id: string, state: FindState): void {
    this.states = { ...this.states, [id]: state };
  }
}
