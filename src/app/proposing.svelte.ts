import type { FoundLine } from '../core/line/foundLine.ts';
import type { Photo } from '../core/survey.ts';
import type { Asking } from './asking.svelte.ts';
import { adoptSeen } from './proposals.ts';
import { readForVision } from './readForVision.ts';
import type { Session } from './session.svelte.ts';
import type { Stop } from './trouble.ts';
import type { VisionLine } from './visionLine.ts';

/** What the tool sees in one photograph of itself. */
export type ProposalState =
  | { readonly state: 'busy' }
  | { readonly state: 'seen'; readonly lines: readonly FoundLine[] }
  | { readonly state: 'stopped'; readonly stop: Stop };

/** Looks which laser lines photographs show, whatever the survey says; nothing of it is kept until the user takes a line over. */
export class Proposing {
  states = $state.raw<Readonly<Record<string, ProposalState>>>({});

  private queue: string[] = [];
  private running = false;

  constructor(
    private readonly session: Session,
    private readonly vision: VisionLine,
    private readonly asking: Asking,
  ) {}

  /**
   * Looks at the given photos, one after the other, those before any that wait (the photo that is open); those looked at
   * before only `again`. Ends when all that waits is looked at.
   */
  async run(photos: readonly Photo[], again = false): Promise<void> {
    const asked = photos
      .map(({ id }) => id)
      .filter((id) => again || this.states[id] === undefined || this.queue.includes(id));
    this.queue = [...asked, ...this.queue.filter((id) => !asked.includes(id))];
    for (const id of asked) this.tell(id, { state: 'busy' });
    if (this.running) return;
    this.running = true;
    try {
      await this.work(this.session.id);
    } finally {
      this.running = false;
    }
    if (this.queue.length > 0) return this.run([]);
    this.vision.rest();
  }

  private async work(survey: string | null): Promise<void> {
    await this.asking.read();
    for (let id = this.queue.shift(); id !== undefined; id = this.queue.shift()) {
      const state = await this.look(id);
      if (this.session.id !== survey) return;
      this.tell(id, state);
      if (state?.state === 'seen') this.adopt(id, state.lines);
    }
  }

  /** A photo of which nothing is said yet is taken to show the one line that is plainly seen; once. */
  private adopt(id: string, lines: readonly FoundLine[]): void {
    const { survey } = this.session;
    if (!survey || this.asking.noteOf(id).adopted) return;
    // no step of its own: an undo must not take back what the user did not do
    this.session.amend((step) => adoptSeen(step, id, lines));
    this.asking.note(id, { adopted: true });
  }

  /** Forgets everything seen: another survey is open. */
  forget(): void {
    this.states = {};
    this.queue = [];
  }

  private async look(id: string): Promise<ProposalState | null> {
    const photo = this.session.survey?.photos.find((each) => each.id === id);
    if (!photo) return null;
    const picture = await readForVision(this.session, photo);
    if (!picture) return null;
    const answer = await this.vision.ask({ kind: 'propose', masks: photo.masks }, picture);
    if (answer.ok) return { state: 'seen', lines: answer.value };
    return answer.stop && { state: 'stopped', stop: answer.stop };
  }

  private tell(id: string, state: ProposalState | null): void {
    const others = Object.entries(this.states).filter(([key]) => key !== id);
    this.states = Object.fromEntries(state ? [...others, [id, state] as const] : others);
  }
}
