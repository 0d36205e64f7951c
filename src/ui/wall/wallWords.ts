import type { WallDoubt } from '../../app/wallDoubts.ts';
import { canSize, type Thing } from '../../app/wallThings.ts';
import type { Survey } from '../../core/survey.ts';
import { formatLength, lengthText } from '../units.ts';

/** A thing's name: "window o1", "level line f1/l1". */
export const nameThing = ({ noun, id }: Thing): string => `${noun} ${id}`;

export const startLarge = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Where a thing stands, and how large it is where it has a size. */
export function sayPlace(thing: Thing, { units, wall }: Pick<Survey, 'units' | 'wall'>): string {
  const { along, up, width, height } = thing.rect;
  const length = (lengthMm: number) => formatLength(lengthMm, units);
  const fromLeft = `${length(along)} from the left`;
  const toRight = `${length(wall.width - along - width)} to the right end`;
  const fromFloor = `${length(up)} from the floor`;
  if (thing.kind === 'line') return thing.moves === 'up' ? fromFloor : `${fromLeft}, ${toRight}`;
  const size = canSize(thing) ? [`${lengthText(width, units)} × ${length(height)}`] : [];
  return [...size, fromLeft, toRight, fromFloor].join(', ');
}

const ends = {
  left: 'the left end of the wall',
  right: 'the right end of the wall',
  floor: 'the floor',
  ceiling: 'the ceiling',
} as const;

/** What looks wrong about where a thing stands, as a sentence that says what to do. */
export function sayDoubt(thing: Thing, doubt: WallDoubt): string {
  const verb = thing.kind === 'reading' ? 'is held' : 'reaches';
  return doubt.code === 'beyond'
    ? `${startLarge(nameThing(thing))} ${verb} beyond ${doubt.sides.map((side) => ends[side]).join(' and ')}. Move it, or correct the size of the wall.`
    : `${startLarge(nameThing(thing))} lies over ${nameThing(doubt.other)}. Move one of them.`;
}
