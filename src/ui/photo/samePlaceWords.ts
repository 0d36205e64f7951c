import type { Photo } from '../../core/survey.ts';

/**
 * That a photo was taken from the same place as others; '' where there are none.
 * @example samePlaceWords([{ id: 'f1' }, { id: 'f3' }]) // 'From the same place as f1 and f3'
 */
export function samePlaceWords(fellows: readonly Pick<Photo, 'id'>[]): string {
  if (fellows.length === 0) return '';
  const ids = fellows.map(({ id }) => id);
  const list = ids.length === 1 ? ids[0]! : `${ids.slice(0, -1).join(', ')} and ${ids.at(-1)!}`;
  return `From the same place as ${list}`;
}
