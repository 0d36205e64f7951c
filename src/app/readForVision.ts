import type { Photo } from '../core/survey.ts';
import type { SentAsk } from '../vision/ask.ts';
import type { Session } from './session.svelte.ts';

/** The pictures of a photo as the vision worker takes them; null where the photograph is not here. */
export async function readForVision(
  session: Session,
  photo: Photo,
): Promise<Omit<SentAsk<Blob>, 'ask'> | null> {
  const bytes = await session.readPhoto(photo.file);
  if (!bytes) return null;
  const off = photo.laserOff === undefined ? null : await session.readPhoto(photo.laserOff);
  return { blob: new Blob([bytes]), file: photo.file, laserOff: off && new Blob([off]) };
}
