import { importPhoto } from './importPhotos.ts';
import type { Proposing } from './proposing.svelte.ts';
import type { Session } from './session.svelte.ts';
import { stopOf } from './stops.ts';
import type { Stop } from './trouble.ts';
import type { Wanted } from './wanted.svelte.ts';

/** A file that was not added because the very same picture is there. */
export interface SkippedTwin {
  readonly file: File;
  readonly photo: string;
}

/** The job of adding photographs: one after the other, each told at once, all of one choice one step of undo. */
export class Adding {
  /** The file being added, how many are through, and of how many; null = nothing is being added. */
  busy = $state.raw<{ readonly name: string; readonly done: number; readonly of: number } | null>(null);
  refused = $state.raw<readonly Stop[]>([]);
  twins = $state.raw<readonly SkippedTwin[]>([]);
  private waiting: { readonly file: File; readonly anyway: boolean; readonly gesture: string }[] = [];
  private run = 0;
  private count = 0;

  constructor(
    private readonly session: Session,
    private readonly wanted: Wanted,
    private readonly proposing: Proposing,
  ) {}

  /** Adds files to the open survey; those given while others are being added come behind them. */
  async add(files: readonly File[], anyway = false): Promise<void> {
    if (files.length === 0) return;
    const gesture = `add ${Date.now()} ${++this.count}`;
    this.waiting.push(...files.map((file) => ({ file, anyway, gesture })));
    if (this.busy) return;
    this.refused = [];
    await this.work();
  }

  /** Adds a picture that is there already all the same. */
  async addTwin(twin: SkippedTwin): Promise<void> {
    this.leaveTwin(twin);
    await this.add([twin.file], true);
  }

  leaveTwin(twin: SkippedTwin): void {
    this.twins = this.twins.filter((each) => each !== twin);
  }

  /** Stops the job; what was added so far stays. */
  cancel(): void {
    this.run++;
    this.waiting = [];
    this.busy = null;
  }

  /** Forgets what was told about the last job: another survey is open. */
  forget(): void {
    this.cancel();
    this.refused = [];
    this.twins = [];
  }

  private async work(): Promise<void> {
    const run = ++this.run;
    const survey = this.session.id;
    const goesOn = () => run === this.run && this.session.id === survey;
    const added: string[] = [];
    for (let done = 0; this.waiting.length > 0 && goesOn(); done++) {
      const { file, anyway, gesture } = this.waiting.shift()!;
      this.busy = { name: file.name, done, of: done + 1 + this.waiting.length };
      const measure = this.wanted.measure;
      const wanted = measure?.kind === 'line' ? measure : null;
      const became = await importPhoto(this.session, file, { gesture, anyway, wanted, goesOn }).catch(
        (thrown: unknown) => ({ kind: 'refused', stop: stopOf(thrown) }) as const,
      );
      if (became.kind === 'added') {
        added.push(became.photo);
        // the first of the photos is of the line that one set out to photograph
        if (wanted) this.wanted.set(null);
      }
      if (!goesOn()) break;
      if (became.kind === 'refused') this.refused = [...this.refused, became.stop];
      if (became.kind === 'twin') this.twins = [...this.twins, { file, photo: became.photo }];
    }
    if (run === this.run) this.busy = null;
    if (this.session.id === survey)
      void this.proposing.run((this.session.survey?.photos ?? []).filter(({ id }) => added.includes(id)));
  }
}
