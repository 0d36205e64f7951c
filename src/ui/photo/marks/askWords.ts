import type { AskedPlace } from '../../../app/placement.ts';
import type { Wall } from '../../../core/survey.ts';
import { lengthText, type Units } from '../../units.ts';

const near = (one: number, other: number) => Math.abs(one - other) <= 0.5;

/** What a place is called: "3500 on the tape", "the upper left corner of the window". */
export function placeWords(place: AskedPlace, axis: 'along' | 'up', wall: Wall, units: Units): string {
  const { along, up, kind } = place;
  if (kind === 'tape') return `${lengthText(place[axis], units)} on the tape`;
  for (const opening of kind === 'corner' ? wall.openings : []) {
    const upper = near(up, opening.up + opening.height);
    const right = near(along, opening.along + opening.width);
    if ((upper || near(up, opening.up)) && (right || near(along, opening.along)))
      return `the ${upper ? 'upper' : 'lower'} ${right ? 'right' : 'left'} corner of the ${opening.kind}`;
  }
  return `the place ${lengthText(along, units)} from the left, ${lengthText(up, units)} up`;
}
