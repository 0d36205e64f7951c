import type { Mark, Photo } from '../../core/survey.ts';
import type { TapeLie } from './work.svelte.ts';

/** How the tape of a photo lies, by its marks; else along the line, its place across still to be told. */
export function guessTapeLie(photo: Photo): TapeLie {
  const [tape] = photo.tapes;
  const end = tape && photo.marks[tape.from];
  if (tape && end)
    return { kind: tape.axis, acrossMm: tape.axis === 'along' ? end.up : end.along, zeroMm: 0 };
  const axis = photo.lines[0]?.sheet.axis === 'plumb' ? 'up' : 'along';
  return { kind: axis, acrossMm: null, zeroMm: 0 };
}

/**
 * Where on the wall (mm) a mark is whose tape reads so.
 * @example placeOfReading({ kind: 'up', acrossMm: 1559, zeroMm: 20 }, 500) // { along: 1559, up: 520 }
 */
export function placeOfReading(lie: TapeLie, readingMm: number): Pick<Mark, 'along' | 'up'> {
  const at = lie.zeroMm + readingMm;
  const across = lie.acrossMm ?? 0;
  return lie.kind === 'up' ? { along: across, up: at } : { along: at, up: across };
}

/** The axis that a mark's tape is read along: of the tape that ends at it, or lies through it; null when it is on none. */
export function readingAxis({ tapes, marks }: Photo, index: number): 'along' | 'up' | null {
  const ends = tapes.find(({ from, to }) => from === index || to === index);
  const through = tapes.find(({ from, axis }) => {
    const across = axis === 'along' ? 'up' : 'along';
    return marks[from]?.[across] === marks[index]![across];
  });
  return (ends ?? through)?.axis ?? null;
}
