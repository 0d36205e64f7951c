import { focalPxFrom35, priorFocal } from '../core/camera/evidence.ts';
import type { ImagePoint } from '../core/camera/frames.ts';
import { checkLens, type LensCheck } from '../core/camera/plumbLine.ts';
import { Refused } from '../core/refusal.ts';
import { readPictureFacts, usableFocal35 } from '../file/exif.ts';
import type { EdgeAnswer, EdgeAsk } from '../vision/edgeAsk.ts';
import { refusalOfFile } from './pictureKind.ts';
import { convertPicture } from './pictures.ts';
import { startLensWorker } from './startWorkers.ts';
import type { Stop } from './trouble.ts';
import { WorkerLine, type WorkerLike } from './workers.ts';

/** A photograph brought for the check; it is not kept with the survey. */
export interface CheckPicture {
  readonly name: string;
  readonly blob: Blob;
  readonly url: string;
  readonly focal35Mm: number | null;
}

/** One straight thing that was marked: its two ends (px), and what came of following it. */
export interface CheckEdge {
  readonly id: number;
  readonly picture: CheckPicture;
  readonly from: ImagePoint;
  readonly to: ImagePoint;
  readonly outcome:
    | { readonly state: 'busy' }
    | { readonly state: 'done'; readonly answer: EdgeAnswer }
    | { readonly state: 'stopped'; readonly stop: Stop };
}

/** What the edges followed so far say of the lens, or why they say nothing yet. */
export type LensFinding =
  { readonly check: LensCheck; readonly stop: null } | { readonly check: null; readonly stop: Stop };

/** The pictures and edges of one lens check while it goes on. */
export class LensChecking {
  pictures = $state.raw<readonly CheckPicture[]>([]);
  edges = $state.raw<readonly CheckEdge[]>([]);
  /** The picture that is shown. */
  shown = $state.raw<CheckPicture | null>(null);
  readonly busy = $derived(this.edges.some(({ outcome }) => outcome.state === 'busy'));
  readonly finding = $derived.by((): LensFinding => findLens(this.edges));
  /** Whether any picture says its focal length: without it k1 is known to about half of itself. */
  readonly focalKnown = $derived(this.pictures.every(({ focal35Mm }) => (focal35Mm ?? 0) > 0));
  private count = 0;
  private readonly line: WorkerLine<EdgeAsk<Blob>, EdgeAnswer>;

  constructor(start: () => WorkerLike = startLensWorker) {
    this.line = new WorkerLine(start);
  }

  /** Takes photographs in; what cannot be read is given back. */
  async add(files: readonly File[]): Promise<Stop[]> {
    const refused: Stop[] = [];
    for (const file of files) {
      const bytes = new Uint8Array(await file.arrayBuffer());
      const refusal = refusalOfFile(bytes, file.name);
      // what the browser alone can read is taken as a JPEG of it
      const converted = refusal?.code === 'picture_kind_unknown' ? await convertPicture(file) : null;
      if (refusal && !converted) {
        refused.push(refusal);
        continue;
      }
      const blob = converted ? new Blob([converted]) : file;
      const focal35Mm = usableFocal35(readPictureFacts(bytes));
      const picture = { name: file.name, blob, url: URL.createObjectURL(blob), focal35Mm };
      this.pictures = [...this.pictures, picture];
      this.shown ??= picture;
    }
    return refused;
  }

  /** Follows what lies between two places of the picture that is shown. */
  async follow(from: ImagePoint, to: ImagePoint, tapPx: number): Promise<void> {
    const picture = this.shown;
    if (!picture) return;
    const id = this.count++;
    this.edges = [...this.edges, { id, picture, from, to, outcome: { state: 'busy' } }];
    const edge = this.edges.length - 1;
    // its address is a name that no other picture has
    const ask = { blob: picture.blob, file: picture.url, from, to, tapPx, edge };
    const answer = await this.line.ask(ask);
    if (!answer.ok && answer.stop === null) return;
    const outcome = answer.ok
      ? ({ state: 'done', answer: answer.value } as const)
      : ({ state: 'stopped', stop: answer.stop! } as const);
    this.edges = this.edges.map((each) => (each.id === id ? { ...each, outcome } : each));
  }

  remove(id: number): void {
    this.edges = this.edges.filter((edge) => edge.id !== id);
  }

  /** Gives everything up: the worker with its picture, and the pictures' addresses. */
  close(): void {
    this.line.cancel();
    for (const { url } of this.pictures) URL.revokeObjectURL(url);
    this.pictures = [];
    this.edges = [];
    this.shown = null;
  }
}

function findLens(edges: readonly CheckEdge[]): LensFinding {
  const curves = [];
  let focalSigma = 0;
  for (const { picture, outcome } of edges) {
    if (outcome.state !== 'done') continue;
    const { widthPx, heightPx, traced } = outcome.answer;
    const focal = priorFocal(picture.focal35Mm);
    focalSigma = Math.max(focalSigma, focal.sigma);
    const focalPx = focalPxFrom35(focal.focal35Mm, Math.max(widthPx, heightPx));
    curves.push({ ...traced, widthPx, heightPx, focalPx });
  }
  try {
    return { check: checkLens(curves, focalSigma), stop: null };
  } catch (thrown) {
    if (thrown instanceof Refused) return { check: null, stop: thrown.refusal };
    throw thrown;
  }
}
