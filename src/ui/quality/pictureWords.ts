import type { Twin } from '../../app/duplicates.ts';
import type { PictureLook } from '../../app/pictureLook.ts';
import type { Photo } from '../../core/survey.ts';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/**
 * The camera's own clock as its file has it, with the month in letters; null where that is no date.
 * @example cameraTime('2024:05:14 09:12:40') // '14 May 2024, 09:12'
 */
export function cameraTime(takenAt: string): string | null {
  const [, year, month, day, time] = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d)/.exec(takenAt) ?? [];
  const name = MONTHS[Number(month) - 1];
  return name === undefined ? null : `${Number(day)} ${name} ${year}, ${time}`;
}

/**
 * What a picture's file tells, in one line: megapixels, 35 mm focal length, when it was taken, with what. Never where.
 * @example sayPicture({ widthPx: 4000, heightPx: 3000, focal35Mm: 26 }, null) // '12.0 MP, 26 mm lens'
 */
export function sayPicture(
  { widthPx, heightPx, focal35Mm }: Pick<Photo, 'widthPx' | 'heightPx' | 'focal35Mm'>,
  facts: PictureLook['facts'] | null,
): string {
  const focal = facts?.focal35Mm ?? focal35Mm;
  const parts = [
    widthPx && heightPx ? `${((widthPx * heightPx) / 1e6).toFixed(1)} MP` : null,
    focal ? `${Math.round(focal)} mm lens` : facts && 'no focal length told',
    facts?.takenAt ? cameraTime(facts.takenAt) : null,
    facts?.camera,
  ];
  return parts.filter(Boolean).join(', ');
}

/** A photo that shows what another one shows, and what to do about it. */
export function sayTwin(photo: string, twin: Twin): string {
  const how = twin.how === 'same_bytes' ? '' : ', saved anew';
  return `Photo ${photo}: the same picture as ${twin.photo}${how}. It would count twice: take one of them away.`;
}
