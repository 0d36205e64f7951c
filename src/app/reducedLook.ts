import type { Photo } from '../core/survey.ts';
import type { LookAsk, SentAsk } from '../vision/ask.ts';
import type { LookedPhoto } from '../vision/look.ts';
import { scaleLine, scalePhoto } from '../vision/photoScale.ts';
import type { Stop } from './trouble.ts';
import type { VisionLine } from './visionLine.ts';
import type { Answer } from './workers.ts';

/** Stops that a smaller picture may get round: a browser out of memory fails in each of these ways. */
const forWantOfMemory: readonly Stop['code'][] = ['worker_lost', 'picture_too_large', 'not_a_picture'];
/** A picture is looked at no larger than this the second time (px), and at half its width at most. */
const REDUCED_PX = 12e6;
/** A picture of fewer pixels than this did not fail for want of memory. */
const LARGE_PX = 6e6;

/**
 * The width (px) at which a photo that stopped is tried once more; null where a smaller picture would not help.
 * @example reducedWidth({ code: 'worker_lost' }, { widthPx: 12000, heightPx: 9000 }) // 4000
 * @example reducedWidth({ code: 'worker_lost' }, { widthPx: 1600, heightPx: 1200 }) // null
 */
export function reducedWidth(stop: Stop, photo: Pick<Photo, 'widthPx' | 'heightPx'>): number | null {
  const { widthPx = 0, heightPx = 0 } = photo;
  const wholePx = widthPx * heightPx;
  if (!forWantOfMemory.includes(stop.code) || wholePx < LARGE_PX) return null;
  return Math.round(widthPx * Math.min(0.5, Math.sqrt(REDUCED_PX / wholePx)));
}

/**
 * Looks for the lines of a photo; where this device has no memory for the whole picture (another worker is started then),
 * once more at a smaller size, with the warning `photo_reduced`. What is found is told in px of the whole picture.
 */
export async function lookAtAnySize(
  vision: Pick<VisionLine, 'ask'>,
  ask: LookAsk,
  picture: Omit<SentAsk<Blob>, 'ask'>,
  progress?: (share: number) => void,
): Promise<Answer<LookedPhoto>> {
  const whole = await vision.ask(ask, picture, progress);
  const photo = ask.survey.photos.find(({ id }) => id === ask.photoId);
  if (whole.ok || whole.stop === null || !photo) return whole;
  const reducedTo = reducedWidth(whole.stop, photo);
  if (reducedTo === null) return whole;
  const small = scalePhoto(photo, reducedTo / photo.widthPx!);
  const survey = { ...ask.survey, photos: [small] };
  const reduced = await vision.ask({ ...ask, survey }, { ...picture, reducedTo }, progress);
  if (!reduced.ok) return reduced.stop === null ? reduced : whole;
  const { photo: seen, warnings } = reduced.value;
  const [scaleU, scaleV] = [photo.widthPx! / seen.widthPx!, photo.heightPx! / seen.heightPx!];
  const lines = photo.lines.map((line) => {
    const { points, gaps } = scaleLine(seen.lines.find(({ id }) => id === line.id) ?? line, scaleU, scaleV);
    return { ...line, points, gaps };
  });
  return {
    ok: true,
    value: {
      photo: { ...photo, lines, focal35Mm: seen.focal35Mm },
      warnings: [
        ...warnings.filter(({ code }) => code !== 'photo_small'),
        { code: 'photo_reduced', subject: photo.id },
      ],
    },
  };
}
