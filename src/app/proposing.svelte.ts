import type { FoundLine } from '../core/line/foundLine.ts';
import type { Photo } from '../core/survey.ts';
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

  constructor(
    private readonly session: Session,
    private readonly vision: VisionLine,
  ) {}

  /** Looks at the given photos, one after the other; those looked at before only `again`. */
  async run(photos: readonly Photo[], again = false): Promise<void> {
    const survey = this.session.id;
    const asked = photos.filter(({ id }) => {
      const known = this.states[id]?.state;
      return known !== 'busy' && (again || known === undefined);
    });
    for (const { id } of asked) this.tell(id, { state: 'busy' });
    for (const photo of asked) {
      const state = await this.look(photo);
      if (this.session.id !== survey) return;
      this.tell(photo.id, state);
    }
    this.vision.rest();
  }

  /** Forgets everything seen: another survey is open. */
  forget(): void {
    this.states = {};
  }

  private async look({ id, masks }: Photo): Promise<ProposalState | null> {
    const photo = this.session.survey?.photos.find((each) => each.id === id);
    if (!photo) return null;
    const picture = await readForVision(this.session, photo);
    if (!picture) return null;
    const answer = await this.vision.ask({ kind: 'propose', masks }, picture);
    if (answer.ok) return { state: 'seen', lines: answer.value };
    return answer.stop && { state: 'stopped', stop: answer.stop };
  }

  private tell(id: string, state: ProposalState | null): void {
    const others = Object.entries(this.states).filter(([key]) => key !== id);
    this.states = Object.fromEntries(state ? [...others, [id, state] as const] : others);
  }
}
