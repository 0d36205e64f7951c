import { makePhoto, makeSurvey } from '../../../src/app/newSurvey.ts';
import { recordStep, redoStep, startHistory, undoStep } from '../../../src/app/history.ts';
import type { LinePoint, Survey } from '../../../src/core/survey.ts';
import { Gestures } from '../../../src/ui/photo/gestures.ts';
import { Tools } from '../../../src/ui/photo/tools.ts';
import { Work } from '../../../src/ui/photo/work.svelte.ts';

export const PICTURE = { width: 400, height: 300 };
export const FRAME = { width: 800, height: 600 };

/** A survey with one photo of 400 x 300 px: a level line at v = 150, a point every 10 px, suspects at 200 and 210. */
export function madeSurvey(): Survey {
  const base = makeSurvey('Wall', 3600, 2450, 'mm');
  const facts = { widthPx: PICTURE.width, heightPx: PICTURE.height, focal35Mm: 26 };
  const photo = makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
  const points = Array.from({ length: 31 }, (_, i): LinePoint => {
    const u = 50 + 10 * i;
    return { u, v: 150, sigma: 0.1, state: u === 200 || u === 210 ? 'suspect' : 'found' };
  });
  const marks = [{ u: 60, v: 200, along: 100, up: 759, sigma: 1 }];
  return { ...base, photos: [{ ...photo, marks, lines: [{ ...photo.lines[0]!, points }] }] };
}

/** A desk without a page: the survey with undo, what is done to it counted, and fingers on a picture shown twice as large. */
export class Table {
  private history = $state.raw(startHistory(madeSurvey()));
  busy = $state(false);
  changes = 0;
  readonly work = new Work(
    () => ({ survey: this.survey, photo: this.survey.photos[0]!, picture: PICTURE, busy: this.busy }),
    (next) => {
      this.history = recordStep(this.history, next);
      this.changes++;
    },
  );
  readonly fingers = new Gestures(new Tools(this.work));

  constructor() {
    this.work.setFrame(FRAME);
  }

  get survey(): Survey {
    return this.history.present;
  }

  get line() {
    return this.survey.photos[0]!.lines[0]!;
  }

  undo(): void {
    this.history = undoStep(this.history);
  }

  redo(): void {
    this.history = redoStep(this.history);
  }

  /** A press at one image point that ends at another, through the middle (px of the picture). */
  drag(from: readonly [number, number], to: readonly [number, number], kind = 'mouse'): void {
    const spot = ([u, v]: readonly [number, number]) => ({ x: (u + 0.5) * 2, y: (v + 0.5) * 2 });
    this.fingers.down(1, spot(from), kind);
    this.fingers.move(1, spot([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]));
    this.fingers.move(1, spot(to));
    this.fingers.up(1, spot(to));
  }

  tap(u: number, v: number): void {
    this.drag([u, v], [u, v]);
  }
}
