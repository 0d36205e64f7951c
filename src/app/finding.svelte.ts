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

  constructor(
    private readonly session: Session,
    private readonly vision = new VisionLine(),
  ) {}

  /**
   * Looks for the lines of the given photos; `again` = also those that have points, `only` = one line. Ends when done or
   * cancelled.
   */
  async run(photos: readonly Photo[], again: boolean, only?: string): Promise<void> {
    if (this.running || photos.length === 0) return;
    const run = ++this.current;
    const survey = this.session.id;
    this.running = true;
    this.states = Object.fromEntries(photos.map((photo) => [photo.id, { state: 'waiting' } as const]));
    for (const { id } of photos) {
      const photo = this.session.survey?.photos.find((each) => each.id === id);
      if (!photo) continue;
      const answer = await this.look(photo, again, run, only);
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
    this.running = false;
    this.vision.rest();
  }

  /** Takes a change that a line's search rests on (a pin) and looks for that line anew: together one step of undo. */
  async follow(edited: Survey, photoId: string, lineId: string): Promise<void> {
    if (this.running) return;
    this.session.change(edited, `find ${this.current + 1}`);
    await this.run(
      edited.photos.filter(({ id }) => id === photoId),
      true,
      lineId,
    );
  }

  /** Stops the job; what was found so far stays. */
  cancel(): void {
    this.current++;
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
