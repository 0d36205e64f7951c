import type { Photo } from '../core/survey.ts';
import type { PictureLook } from './pictureLook.ts';
import { lookAtPicture } from './pictures.ts';
import type { Session } from './session.svelte.ts';

/** What the pictures of a survey look like, one after the other as they are looked at; null = the picture is not here. */
export class Looks {
  private seen = $state.raw<Readonly<Record<string, PictureLook | null>>>({});

  constructor(private readonly session: Session) {}

  /** undefined = not looked at yet. */
  of(photo: Pick<Photo, 'file'>): PictureLook | null | undefined {
    return this.seen[photo.file];
  }

  /** Looks at the pictures of these photos; those seen before are shown at once. */
  follow(photos: readonly Photo[]): void {
    const survey = this.session.id;
    for (const { file } of photos)
      void lookAtPicture(this.session, file).then((look) => {
        if (this.session.id !== survey || this.seen[file] === look) return;
        this.seen = { ...this.seen, [file]: look };
      });
  }
}
